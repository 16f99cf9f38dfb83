// What axe finds wrong with the page as it stands.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "@playwright/test";
import type axe from "axe-core";

const source = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** The rules of WCAG 2.2, levels A and AA; without a choice of rules every rule of axe is gone through. */
export const WCAG: axe.RunOnly = { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] };
/** What colours decide. */
export const CONTRAST: axe.RunOnly = { type: "rule", values: ["color-contrast"] };

interface Asked {
  /** The part that is looked at; the whole page where none is named. */
  readonly within?: string;
  /** A part that is left out. */
  readonly without?: string;
  readonly rules?: axe.RunOnly;
}

type Violation = Pick<axe.Result, "id"> & { readonly nodes: readonly Pick<axe.NodeResult, "html" | "target">[] };

/**
 * Each rule that is broken, with the elements that break it. The page has axe put into it once, and is asked in itself and
 * for violations alone: made anew for every question, with all that is sound written out, axe costs eight times as much.
 */
export async function violations(page: Page, { within, without, rules }: Asked = {}): Promise<Violation[]> {
  if (page.frames().length > 1) throw new Error("Frames would have to be asked one by one.");
  if (!(await page.evaluate(() => "axe" in window))) await page.evaluate(source);
  return page.evaluate(
    async ([include, exclude, runOnly]) => {
      const { axe: asked } = window as unknown as { axe: typeof axe };
      const context = { include: include ? [include] : [document], exclude: exclude ? [exclude] : [] };
      const found = await asked.run(context, { resultTypes: ["violations"], ...(runOnly ? { runOnly } : {}) });
      return found.violations.map(({ id, nodes }) => ({
        id,
        nodes: nodes.map(({ html, target }) => ({ html, target })),
      }));
    },
    [within, without, rules] as const,
  );
}
