// What meters say of the programmes that the way is fired by, held against the energy that the plan calculates with. A kiln by the
// rule can be planned with it, by its duty; one that is described has a model, which is fitted to its meters instead.
import { counted } from "../../core/counted";
import { columnOf, rawAt } from "../../core/document/access";
import { isAllowed } from "../../core/document/entry";
import type { Row } from "../../core/document/workbook";
import { isFiringStep } from "../../core/sheets/step-kinds";
import { showNumber } from "../edition/format";
import type { Session } from "../edition/session";
import { eachOnce, energyOf, type KnownEnergy, kilnAndProgramme, meteredIn } from "./kept-firings";
import { elsewhereOf } from "./seen-elsewhere";
import { CONFIDENCE, type SeenNumber } from "./seen-plan";

/** What is known of the energy of each kiln and programme that the Route fires with; with other editions once they were looked at. */
export function seenEnergy(session: Session): readonly SeenNumber[] {
  const elsewhere = elsewhereOf(session).value?.firings ?? [];
  const book = session.book.value;
  const own = meteredIn(book, (row, column) => session.valueIn("firings", row, column));
  const known = new Map(
    energyOf(eachOnce([...own, ...elsewhere]), CONFIDENCE).map((one) => [
      kilnAndProgramme(one.kiln, one.programme),
      one,
    ]),
  );
  const steps = book.sheets.route.rows.filter(isFiringStep);
  const groups = new Map(
    steps.map((step) => [kilnAndProgramme(String(step.cells.kiln ?? ""), String(step.cells.programme ?? "")), step]),
  );
  return [...groups].flatMap(([key, step]) => {
    const energy = known.get(key);
    const kiln = book.sheets.kilns.rows.find(({ cells }) => cells.id === step.cells.kiln);
    return energy && kiln ? energyNumber(session, step, kiln, energy, programmesIn(steps, kiln) === 1) : [];
  });
}

const programmesIn = (steps: readonly Row[], kiln: Row): number =>
  new Set(steps.filter(({ cells }) => cells.kiln === kiln.cells.id).map(({ cells }) => cells.programme)).size;

function energyNumber(
  session: Session,
  step: Row,
  kiln: Row,
  { programme, firings, editions, known }: KnownEnergy,
  isOnlyOne: boolean,
): readonly SeenNumber[] {
  const book = session.book.value;
  const { locale } = session.formats;
  const kwh = (amount: number) => `${showNumber(amount, 0, 1, locale)}\u202fkWh`;
  const planned = session.valueIn("route", step, "load_kwh");
  const plan = typeof planned === "number" ? planned : undefined;
  const cell = { sheet: "kilns", row: kiln.id, column: "duty" } as const;
  const column = columnOf(book, "kilns", "duty");
  const [kw, hours] = [kiln.cells.kw, kiln.cells.hours];
  const isByRule = isOnlyOne && kiln.cells.brick === undefined && typeof kw === "number" && typeof hours === "number";
  const duty = isByRule ? Math.round((known.value / (kw * hours)) * 1000) / 1000 : Number.NaN;
  const isKnown = Number.isFinite(known.low) && Number.isFinite(known.high);
  const isWithin = plan === undefined || !isKnown || (plan >= known.low && plan <= known.high);
  const canPlan = isByRule && column !== undefined && isAllowed(book, column, duty);
  const of = programme === "" ? String(kiln.cells.id) : `${programme} in ${kiln.cells.id}`;
  const count = counted(firings, "metered firing");
  return [
    {
      ...{ cell, editions, value: duty },
      plannable: `${showNumber(duty * 100, 0, 1, locale)} % duty`,
      words: `${of} took ${kwh(known.value)} in ${count}; the plan says ${plan === undefined ? "nothing" : kwh(plan)}.`,
      range: isKnown ? `${kwh(Math.max(0, known.low))} to ${kwh(known.high)}` : undefined,
      stands: rawAt(book, cell) === duty ? "same" : isWithin ? "fits" : "takes",
      ...(canPlan
        ? {}
        : {
            notPlannable:
              kiln.cells.brick === undefined
                ? "can’t be planned by one number"
                : "by the kiln’s build: fit it to its meters",
          }),
    },
  ];
}
