// A small validator of the W3C Metadata Vocabulary for Tabular Data (Recommendation, 17 December 2015): what a metadata
// document must be, and whether a table is what it says. Written from the Recommendation; nothing of the page's own code.

type Properties = Readonly<Record<string, unknown>>;

const BASES = new Set(["string", "double", "decimal", "integer", "date", "time", "boolean", "anyAtomicType"]);
const NUMERIC = /^-?\d+(\.\d+)?([eE][-+]?\d+)?$/;
const DIALECT = new Set(
  "commentPrefix delimiter doubleQuote encoding header headerRowCount lineTerminators quoteChar skipBlankRows skipColumns skipInitialSpace skipRows trim @id @type".split(
    " ",
  ),
);
// Section 5.1.2: a common property is a prefixed name with a prefix of the RDFa initial context, or a URL.
const COMMON = /^(dc|schema|rdfs|rdf|skos|xsd|csvw|dcat|foaf|prov):[A-Za-z]/;

const isObject = (value: unknown): value is Properties =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** Everything wrong with a group of tables, where `files` holds their texts by URL. */
export function checkCsvw(metadata: unknown, files: Readonly<Record<string, string>>): string[] {
  if (!isObject(metadata)) return ["the document is no object"];
  const problems: string[] = [];
  const say = (text: string) => problems.push(text);
  const context = metadata["@context"];
  const [first, second] = Array.isArray(context) ? context : [context, undefined];
  if (first !== "http://www.w3.org/ns/csvw") say("@context is not http://www.w3.org/ns/csvw");
  if (second !== undefined && (!isObject(second) || Object.keys(second).some((key) => !/^@(language|base)$/.test(key))))
    say("@context has more than @language and @base");
  checkKeys(metadata, ["@context", "tables", "dialect", "tableSchema", "notes", "@id", "@type"], "the group", say);
  const dialect = isObject(metadata.dialect) ? metadata.dialect : {};
  checkDialect(dialect, say);
  if (!Array.isArray(metadata.tables) || metadata.tables.length === 0) return [...problems, "there are no tables"];
  const tables = metadata.tables as Properties[];
  const rows = new Map<string, readonly Readonly<Record<string, string>>[]>();
  for (const table of tables) {
    checkKeys(table, ["url", "tableSchema", "dialect", "notes", "suppressOutput", "@id", "@type"], "a table", say);
    rows.set(String(table.url), checkTable(table, dialect, files, say));
  }
  for (const table of tables) checkForeign(table, tables, rows, say);
  return problems;
}

/** Section 5.9: what each property of a dialect has to be. One that is not is left out, and its default used. */
function checkDialect(dialect: Properties, say: (text: string) => void): void {
  const isText = (value: unknown) => typeof value === "string";
  const isFlag = (value: unknown) => typeof value === "boolean";
  const isCount = (value: unknown) => Number.isInteger(value) && Number(value) >= 0;
  const rules: Readonly<Record<string, (value: unknown) => boolean>> = {
    ...{ commentPrefix: isText, delimiter: isText, encoding: isText },
    ...{ doubleQuote: isFlag, header: isFlag, skipBlankRows: isFlag, skipInitialSpace: isFlag },
    ...{ headerRowCount: isCount, skipColumns: isCount, skipRows: isCount },
    lineTerminators: (value) => [value].flat().every(isText),
    quoteChar: (value) => value === null || isText(value),
    trim: (value) => isFlag(value) || ["true", "false", "start", "end"].includes(String(value)),
  };
  for (const [key, value] of Object.entries(dialect)) {
    if (!DIALECT.has(key)) say(`dialect: ${key} is no property of it`);
    else if (rules[key]?.(value) === false) say(`dialect: ${key} can't be ${JSON.stringify(value)}`);
  }
}

function checkKeys(value: Properties, known: readonly string[], where: string, say: (text: string) => void): void {
  for (const key of Object.keys(value))
    if (!known.includes(key) && !COMMON.test(key))
      say(`${where}: ${key} is neither of the vocabulary nor a common property`);
}

function columnsOf(table: Properties): Properties[] {
  const schema = isObject(table.tableSchema) ? table.tableSchema : {};
  return Array.isArray(schema.columns) ? (schema.columns as Properties[]) : [];
}

function checkTable(
  table: Properties,
  dialect: Properties,
  files: Readonly<Record<string, string>>,
  say: (text: string) => void,
): readonly Readonly<Record<string, string>>[] {
  const url = String(table.url);
  const text = files[url];
  if (typeof table.url !== "string" || text === undefined) {
    say(`there is no file ${url}`);
    return [];
  }
  const schema = isObject(table.tableSchema) ? table.tableSchema : {};
  checkKeys(schema, ["columns", "primaryKey", "foreignKeys", "rowTitles", "@id", "@type"], `${url} schema`, say);
  const columns = columnsOf(table);
  const names = columns.map((column) => String(column.name));
  if (new Set(names).size !== names.length) say(`${url}: two columns have one name`);
  const grid = readGrid(
    text,
    String(dialect.delimiter ?? ","),
    typeof dialect.commentPrefix === "string" ? dialect.commentPrefix : "#",
  );
  const [header = [], ...lines] = grid;
  for (const [at, column] of columns.entries()) checkColumn(column, header[at], `${url}, column ${at + 1}`, say);
  if (header.length !== columns.length)
    say(`${url}: ${header.length} columns in the file, ${columns.length} described`);
  const records = lines.map((cells) => Object.fromEntries(names.map((name, at) => [name, cells[at] ?? ""])));
  lines.forEach((cells, at) => {
    columns.forEach((column, index) => {
      const wrong = cellProblem(cells[index] ?? "", column);
      if (wrong) say(`${url}, line ${at + 2}, ${column.name}: ${wrong}`);
    });
  });
  const keys = schema.primaryKey === undefined ? [] : [schema.primaryKey].flat().map(String);
  if (keys.some((key) => !names.includes(key))) say(`${url}: the primary key names no column`);
  if (keys.length > 0) {
    const values = records.map((record) => JSON.stringify(keys.map((key) => record[key])));
    if (new Set(values).size !== values.length) say(`${url}: the primary key is not unique`);
    // A key with a null in it names no row; required says that there is none (Metadata 5.5 and 5.6).
    for (const key of keys) {
      if (records.some((record) => record[key] === "")) say(`${url}: the primary key ${key} is null in a row`);
      if (columns.find((column) => column.name === key)?.required !== true)
        say(`${url}: the key ${key} is not required`);
    }
  }
  return records;
}

function checkColumn(column: Properties, header: string | undefined, where: string, say: (text: string) => void): void {
  checkKeys(
    column,
    "name titles datatype required virtual default lang null ordered separator @id @type".split(" "),
    where,
    say,
  );
  // Section 5.6: a name is a variable name of URI templates (RFC 6570) and does not begin with “_”.
  if (typeof column.name !== "string" || !/^(?!_)(\w|%[0-9A-F]{2})+(\.(\w|%[0-9A-F]{2})+)*$/i.test(column.name))
    say(`${where}: the name ${column.name} is not allowed`);
  if (![column.titles].flat().includes(header)) say(`${where}: titled ${column.titles}, but the file says ${header}`);
  if (typeof column.required !== "boolean") say(`${where}: required is neither true nor false`);
  const type = column.datatype;
  const base = isObject(type) ? type.base : type;
  if (!BASES.has(String(base))) say(`${where}: no such datatype ${String(base)}`);
}

/** What is wrong with a cell by its column's datatype (section 6.4). */
function cellProblem(cell: string, column: Properties): string | undefined {
  const type = column.datatype;
  const base = isObject(type) ? type.base : type;
  const format = isObject(type) ? type.format : undefined;
  if (cell === "") return column.required === true ? "blank, but required" : undefined;
  if (isObject(format)) {
    // Model 6.4.2: with a format, digits and one decimal mark between digits, and an exponent with a capital E.
    if (Object.keys(format).some((key) => !["decimalChar", "groupChar", "pattern"].includes(key)))
      return "a format with odd properties";
    if (typeof format.decimalChar !== "string" || format.decimalChar.length !== 1) return "no single decimalChar";
    if (/e/.test(cell)) return `${cell} has a small e`;
  }
  const mark = isObject(format) ? String(format.decimalChar) : ".";
  const plain = mark === "." ? cell : cell.replaceAll(".", "?").replace(mark, ".");
  if (base === "double" && !NUMERIC.test(plain)) return `${cell} is no double`;
  if (base === "decimal" && (!NUMERIC.test(plain) || /e/i.test(plain))) return `${cell} is no decimal`;
  if (base === "integer" && !/^-?\d+$/.test(cell)) return `${cell} is no integer`;
  if (base === "date" && !(format === "yyyy-MM-dd" && /^\d{4}-\d\d-\d\d$/.test(cell))) return `${cell} is no date`;
  if (base === "time" && !(format === "HH:mm" && /^\d\d:\d\d$/.test(cell))) return `${cell} is no time`;
  return undefined;
}

function checkForeign(
  table: Properties,
  tables: readonly Properties[],
  rows: ReadonlyMap<string, readonly Readonly<Record<string, string>>[]>,
  say: (text: string) => void,
): void {
  const schema = isObject(table.tableSchema) ? table.tableSchema : {};
  for (const key of (Array.isArray(schema.foreignKeys) ? schema.foreignKeys : []) as Properties[]) {
    const reference = isObject(key.reference) ? key.reference : {};
    const own = String(key.columnReference);
    const target = tables.find((one) => one.url === reference.resource);
    const to = String(reference.columnReference);
    if (!columnsOf(table).some((column) => column.name === own)) say(`${table.url}: no column ${own} to refer from`);
    if (!target || !columnsOf(target).some((column) => column.name === to)) {
      say(`${table.url}: ${own} refers to ${reference.resource}, ${to}, which is not there`);
      continue;
    }
    const there = new Set((rows.get(String(target.url)) ?? []).map((row) => row[to]));
    for (const row of rows.get(String(table.url)) ?? [])
      if (row[own] !== "" && !there.has(row[own]))
        say(`${table.url}: ${own} says ${row[own]}, which ${target.url} lacks`);
  }
}

/** Lines and cells as RFC 4180 has them; a line that begins with the comment prefix is swallowed, as a reader would. */
export function readGrid(text: string, delimiter: string, comment: unknown): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = "";
  let isQuoted = false;
  let isBegun = false;
  const plain = text.replace(/^\ufeff/, "");
  for (let at = 0; at < plain.length; at += 1) {
    const letter = plain[at] ?? "";
    if (!isBegun && typeof comment === "string" && plain.startsWith(comment, at)) {
      at = plain.indexOf("\n", at);
      if (at < 0) break;
      continue;
    }
    isBegun = true;
    if (isQuoted) {
      if (letter !== '"') cell += letter;
      else if (plain[at + 1] === '"') {
        cell += '"';
        at += 1;
      } else isQuoted = false;
    } else if (letter === '"') isQuoted = true;
    else if (letter === delimiter) {
      row.push(cell);
      cell = "";
    } else if (letter === "\n") {
      rows.push([...row, cell.replace(/\r$/, "")]);
      [row, cell, isBegun] = [[], "", false];
    } else cell += letter;
  }
  return isBegun ? [...rows, [...row, cell]] : rows;
}
