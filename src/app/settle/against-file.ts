// The causes between plan and run as a file.
import { CAUSES } from "../../accounts/plan-causes";
import type { RoundedVariances } from "../../accounts/variance-rounding";
import { type AgainstLine, writeAgainstCsv } from "../../csv/against-csv";
import { CSV_FILE, fileNameFor } from "../../storage/files";
import { CSV_FORMS, type CsvForm, save } from "../csv/csv-export";
import type { Session } from "../edition/session";
import { partName, verdictOf } from "./cause-sentences";
import { CAUSE_WORDS, GROUP_TITLES } from "./cause-words";

/** The two margins, then every cause and what it is made of; units are those the document keeps. */
export function againstLines(session: Session, found: RoundedVariances, endTitle: string): readonly AgainstLine[] {
  const { currency } = session.formats;
  const margin = (cause: string, minor: number): AgainstLine => ({
    ...{ group: "Margin", cause, of: "", unit: currency, planned: undefined, real: undefined, minor, verdict: "" },
  });
  const causes = found.causes.flatMap(({ cause, minor, parts }): AgainstLine[] => {
    const { title, measure } = CAUSE_WORDS[cause];
    const line = { group: GROUP_TITLES[CAUSES[cause]], cause: title, unit: measure.unit.replace("¤", currency) };
    return [
      { ...line, of: "", planned: undefined, real: undefined, minor, verdict: verdictOf(minor, cause) },
      ...parts.flatMap((part): AgainstLine[] =>
        part.of === undefined && part.planned === undefined
          ? []
          : [
              {
                ...{ ...line, of: partName(session, part.of) || "all", planned: part.planned, real: part.real },
                ...{ minor: part.minor, verdict: verdictOf(part.minor, cause) },
              },
            ],
      ),
    ];
  });
  return [margin("Plan leaves", found.plannedMinor), ...causes, margin(endTitle, found.realMinor)];
}

/** Saves them. */
export async function saveAgainst(
  session: Session,
  found: RoundedVariances,
  endTitle: string,
  form: CsvForm,
): Promise<void> {
  const text = writeAgainstCsv(againstLines(session, found, endTitle), session.digits, CSV_FORMS[form]);
  await save(session, fileNameFor(`${session.book.value.meta.title} against the plan`, ".csv"), text, CSV_FILE);
}
