// What we use of the CSV library, by its documentation (https://www.papaparse.com/docs). The declarations published for it
// bring those of Node and of pages with them, which code of this layer must not see.
declare module "papaparse" {
  interface ParseForm {
    readonly delimiter: string;
    readonly newline?: "\r\n" | "\n" | "\r";
    readonly quoteChar?: string;
    /** The number of rows to read at most; all where it is left out. */
    readonly preview?: number;
    readonly skipEmptyLines?: boolean;
  }
  interface Parsed<Row> {
    readonly data: Row[];
    readonly errors: readonly { readonly type: "Quotes" | "Delimiter" | "FieldMismatch"; readonly row?: number }[];
  }
  const Papa: {
    parse<Row>(text: string, form: ParseForm): Parsed<Row>;
    unparse(rows: readonly unknown[][], form?: { readonly delimiter: string; readonly newline: string }): string;
  };
  export default Papa;
}
