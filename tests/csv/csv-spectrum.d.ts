declare module "csv-spectrum" {
  interface SpectrumFile {
    readonly name: string;
    readonly csv: Buffer;
    readonly json: Buffer;
  }
  export default function spectrum(done: (error: unknown, files: readonly SpectrumFile[]) => void): void;
}
