// Editions as files: opened as editions of their own, saved to the same file where the browser can.
import { openDocument } from "../../core/document/document-file";
import type { Workbook } from "../../core/document/workbook";
import { writeDocument } from "../../core/document/write-document";
import { EDITION_FILE, fileNameFor, openTextFile, saveTextFile } from "../../storage/files";
import type { Studio } from "./studio";

/** The file each open edition was opened from or saved to, where the browser gives one. */
const handles = new WeakMap<object, FileSystemFileHandle>();

/** Asks for an edition file and opens it as a new edition. */
export async function openEditionFile(studio: Studio): Promise<void> {
  const opened = await openTextFile(EDITION_FILE);
  if (!opened.ok) studio.report(opened.problems);
  else if (opened.value) {
    const { text, name, handle } = opened.value;
    if ((await openText(studio, text, name)) && handle && studio.open) handles.set(studio.open, handle);
  }
}

/** Opens the text of an edition file as a new edition; says what is wrong where it is none. */
export async function openText(studio: Studio, text: string, name: string): Promise<boolean> {
  const opened = openDocument(text, name);
  if (!opened.ok) {
    studio.report(opened.problems);
    return false;
  }
  if (!(await openBook(studio, opened.value.book, name))) return false;
  studio.session.value?.notifyNews(opened.value.news);
  return true;
}

/** Opens what a file held as a new edition; false where the open one is not left. */
export async function openBook(studio: Studio, book: Workbook, name: string): Promise<boolean> {
  if (!(await studio.openNew(book))) return false;
  studio.session.value?.notify("done", `Opened ${name}.`);
  void studio.askToKeep();
  return true;
}

/** Saves what is shown as a file: the open edition to its own file, a copy that is looked at to a new one; whether it was. */
export async function saveEditionFile(studio: Studio): Promise<boolean> {
  const session = studio.session.value;
  if (!session) return false;
  const book = session.book.value;
  const isOpen = session === studio.open?.session;
  const owner = isOpen ? studio.open : undefined;
  const name = fileNameFor(book.meta.title, EDITION_FILE.extensions[0]);
  const saved = await saveTextFile(name, writeDocument(book), EDITION_FILE, owner && handles.get(owner));
  if (!saved.ok) studio.report(saved.problems);
  else if (saved.value) {
    if (owner && saved.value.handle) handles.set(owner, saved.value.handle);
    if (isOpen) studio.files.saved();
    session.notify("done", `Saved as the file ${name}.`);
  }
  return saved.ok && saved.value !== undefined;
}

/** The stored text of an edition, damaged or not, saved as a file. */
export async function saveStoredText(studio: Studio, id: string): Promise<void> {
  const text = await studio.home.editions.readText(id);
  if (!text.ok) return studio.report(text.problems);
  const saved = await saveTextFile(fileNameFor(id, ".json"), text.value, EDITION_FILE);
  if (!saved.ok) studio.report(saved.problems);
}
