// A file that this page keeps up to date by a handle of the browser's (File System Standard; who may write: WICG File System
// Access). It is written whole and takes the place of the old one in one move, so that a page killed meanwhile leaves the old.
import { checksumOf } from "../core/checksum";
import { fail, ok, problem, type Result } from "../core/problem";
import type { BackupRecord, FileMark } from "./preferences";
import { errorName } from "./storage-problems";

/** Editions whose backup files are remembered; the oldest go first. */
const MOST_RECORDS = 200;

/** All records with one of them new, or gone. */
export function withBackup(
  records: readonly BackupRecord[],
  edition: string,
  record?: BackupRecord,
): readonly BackupRecord[] {
  return [...records.filter((one) => one.edition !== edition), ...(record ? [record] : [])].slice(-MOST_RECORDS);
}

/** What Chromium adds to the standard's handle: whether the page may write, and asking for it, which takes a press. */
interface Permitted {
  queryPermission?(mode: { readonly mode: "readwrite" }): Promise<PermissionState>;
  requestPermission?(mode: { readonly mode: "readwrite" }): Promise<PermissionState>;
}

/** What has a file written: the maker's press, by which the browser may ask, or the page by itself. */
export type WrittenBy = "press" | "page";

/** Whether the page may write to the file; the browser asks the maker after a press. */
export async function mayWrite(handle: FileSystemFileHandle & Permitted, by: WrittenBy): Promise<boolean> {
  const mode = { mode: "readwrite" } as const;
  try {
    if ((await handle.queryPermission?.(mode)) === "granted") return true;
    return by === "press" && (await handle.requestPermission?.(mode)) === "granted";
  } catch {
    return false;
  }
}

/** Whether a file still holds what this page wrote into it; a problem where it is gone. */
export async function holdsStill(handle: FileSystemFileHandle, mark: FileMark): Promise<Result<boolean>> {
  try {
    const file = await handle.getFile();
    if (file.size !== mark.size) return ok(false);
    // Programs that copy folders to other devices touch files without changing them.
    return ok(file.lastModified === mark.lastModified || checksumOf(await file.text()) === mark.sum);
  } catch (error) {
    return fail(writeProblem(handle, error));
  }
}

/** Writes text as the whole file and gives how it looks then. */
export async function writeTo(handle: FileSystemFileHandle, text: string): Promise<Result<FileMark>> {
  try {
    const stream = await handle.createWritable();
    try {
      await stream.write(text);
      await stream.close();
    } catch (error) {
      await stream.abort().catch(() => undefined);
      throw error;
    }
    const { lastModified, size } = await handle.getFile();
    return ok({ lastModified, size, sum: checksumOf(text) });
  } catch (error) {
    return fail(writeProblem(handle, error));
  }
}

function writeProblem({ name }: FileSystemFileHandle, error: unknown) {
  const what = errorName(error);
  const found =
    what === "NotFoundError"
      ? "no file of that name where it was"
      : what === "QuotaExceededError"
        ? "no room for it"
        : `the browser's answer ${what}`;
  const fix = "Put its disk or folder back and try again, or keep another file.";
  return problem({ code: "file.backup", where: `The backup file ${name}`, found, allowed: "a file to write to", fix });
}
