import type { Session } from "../app/session";
import type { SheetKey } from "../core/workbook";

const GROUPS: readonly { readonly title: string; readonly sheets: readonly SheetKey[] }[] = [
  { title: "Plan", sheets: ["edition", "route", "materials", "kilns", "programmes", "tariffs"] },
  { title: "Run", sheets: ["pieces", "firings"] },
  { title: "Settle", sheets: ["results"] },
];
const COUNTED: readonly SheetKey[] = ["route", "materials", "kilns", "tariffs", "pieces", "firings"];

/** The sheets, by when they are used. */
export function SheetList({ session }: { readonly session: Session }) {
  const { sheets } = session.book.value;
  return (
    <nav class="sheets" aria-label="Sheets">
      {GROUPS.map((group) => (
        <section key={group.title} aria-label={group.title}>
          <h2>{group.title}</h2>
          {group.sheets.map((key) => (
            <button
              type="button"
              key={key}
              aria-current={session.sheet.value === key ? "page" : undefined}
              onClick={() => {
                session.sheet.value = key;
                if (session.selection.value?.sheet !== key) session.selection.value = undefined;
              }}
            >
              {sheets[key].title}
              {COUNTED.includes(key) ? <span class="count">{sheets[key].rows.length}</span> : null}
            </button>
          ))}
        </section>
      ))}
    </nav>
  );
}
