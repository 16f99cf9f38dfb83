// What can be done with files; the work behind it is loaded when it is first asked for.
import type { Studio } from "./studio";

const work = () => import("./studio-files");

/** Asks for an edition file and opens it as a new edition; the open one is kept. */
export async function openFile(studio: Studio): Promise<void> {
  await (await work()).openEditionFile(studio);
}

/** Saves what is shown as a file, to the same file where the browser can; whether it was. */
export async function saveFile(studio: Studio): Promise<boolean> {
  return (await work()).saveEditionFile(studio);
}

/** The stored text of an edition, damaged or not, saved as a file. */
export async function rescueText(studio: Studio, id: string): Promise<void> {
  await (await work()).saveStoredText(studio, id);
}

/** Goes on keeping the backup file of the open edition up to date, where there is one. */
export async function resumeBackup(studio: Studio): Promise<void> {
  const { open } = studio;
  const stored = await studio.home.preferences.get("backups");
  const record = stored.ok ? stored.value?.find(({ edition }) => edition === open?.id) : undefined;
  if (!open || !record) return;
  const backups = await import("./backup-file");
  if (studio.open === open) backups.keepUpToDate(studio, open, record);
}
