// The templates of the project: every folder under templates/ that has a template.json.

import { readTemplate } from "../../core/document/template";
import type { Template } from "../../core/document/template-schema";
import type { FormulaCheck } from "../../core/formula/formula-check";
import { fail, problem, type Result } from "../../core/problem";

/** A folder under templates/, and the template in it or why it is refused. */
export interface TemplateEntry {
  readonly folder: string;
  readonly template: Result<Template>;
}

const FILES = import.meta.glob<unknown>("../../../templates/*/template.json", { eager: true, import: "default" });

/** Reads every template, by folder name; a broken one is refused by itself and the others still work. */
export function listTemplates(
  check?: FormulaCheck,
  files: Readonly<Record<string, unknown>> = FILES,
): readonly TemplateEntry[] {
  const entries = Object.entries(files).map(([path, json]) => readEntry(path, json, check));
  return entries.sort((a, b) => (a.folder < b.folder ? -1 : 1));
}

function readEntry(path: string, json: unknown, check: FormulaCheck | undefined): TemplateEntry {
  const folder = path.split("/").at(-2) ?? path;
  const where = `templates/${folder}/template.json`;
  const template = readTemplate(json, where, check);
  if (!template.ok || template.value.id === folder) return { folder, template };
  const misnamed = problem({
    code: "template.folder",
    where: `${where}, id`,
    found: template.value.id,
    allowed: `the name of its folder, ${folder}`,
  });
  return { folder, template: fail(misnamed) };
}
