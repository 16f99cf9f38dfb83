// The table of ways forward: a column a way, a line what it takes or brings.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { WeighedWay } from "../../accounts/decide";
import { asWritten, moneyText } from "../../app/edition/money-text";
import type { Session } from "../../app/edition/session";
import { amountText, readAmount } from "../../app/edition/typed-amount";
import { planAsked } from "../../app/record/record";
import { priceKey, type RescueColumn, type RescueTable, type RescueTerms } from "../../app/rescue/rescue";
import { askedOfWay, chooseWay } from "../../app/rescue/rescue-choose";
import { sayBreakEven } from "../../app/rescue/rescue-words";
import { otherWay, pricesTyped } from "../../app/settle/price-words";
import { useNarrow } from "../controls/narrow";
import { Scrolled } from "../controls/scrolled";

interface Props {
  readonly session: Session;
  readonly table: RescueTable;
  readonly terms: RescueTerms;
  readonly change: (to: Partial<RescueTerms>) => void;
  /** Called once a way was chosen and recorded. */
  readonly onChosen: (way: WeighedWay) => void;
}

/** Every way forward side by side. */
export function RescueWays(props: Props) {
  const { session, table, terms } = props;
  const { ways, choice } = table.weighed;
  const columnOf = (one: WeighedWay) => table.columns.find(({ recipe }) => recipe.id === one.id);
  const isNarrow = useNarrow();
  const lineClass = (line: Line) => (line.isStrong ? "sum" : line.isGrey?.(terms) ? "not-counted" : undefined);
  const source = (
    <p class="quiet">
      {session.book.value.lists.recipes.length === 0 ? "There is no recipe yet: make one below." : whereFrom(table)}
    </p>
  );
  if (isNarrow)
    return (
      <section class="ways" aria-label="Ways forward">
        {ways.map((one) => (
          <details class="way" key={one.id} open={one === choice}>
            <summary>
              <span>
                {one.title}
                {one === choice ? <b class="recommended">recommended</b> : null}
              </span>
              <b>{moneyText(session, one.expected)}</b>
            </summary>
            <Choice {...props} way={one} />
            <Records {...props} way={one} />
            <dl>
              {LINES.map((line) => (
                <div key={line.title} class={lineClass(line)}>
                  <dt>{line.title}</dt>
                  <dd>{line.of(props, one, columnOf(one))}</dd>
                </div>
              ))}
            </dl>
          </details>
        ))}
        {source}
      </section>
    );
  return (
    <Scrolled class="ways" label="Ways forward">
      <table class="plain-table">
        <thead>
          <tr>
            <td>From now on, a piece</td>
            {ways.map((one) => (
              <th scope="col" key={one.id}>
                {one.title}
                {one === choice ? <b class="recommended"> recommended</b> : null}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          <tr>
            <td />
            {ways.map((one) => (
              <td key={one.id}>
                <Choice {...props} way={one} />
              </td>
            ))}
          </tr>
          {LINES.map((line) => (
            <tr key={line.title} class={lineClass(line)}>
              <th scope="row">{line.title}</th>
              {ways.map((one) => (
                <td key={one.id}>{line.of(props, one, columnOf(one))}</td>
              ))}
            </tr>
          ))}
          <tr>
            <th scope="row">Choosing it records</th>
            {ways.map((one) => (
              <td key={one.id}>
                <Records {...props} way={one} />
              </td>
            ))}
          </tr>
        </tbody>
      </table>
      {source}
    </Scrolled>
  );
}

type WayProps = Props & { readonly way: WeighedWay };

/** The press that does it. */
function Choice({ session, table, way, onChosen }: WayProps) {
  const plan = planAsked(session, table.pieces, askedOfWay(table, way.id));
  return (
    <button
      type="button"
      class="act"
      aria-label={`Do this: ${way.title}`}
      disabled={!plan.ok || plan.value.operations.length === 0}
      onClick={() => chooseWay(session, table, way.id) && onChosen(way)}
    >
      Do this
    </button>
  );
}

/** What the press does, said before. */
function Records({ session, table, way }: WayProps) {
  const plan = planAsked(session, table.pieces, askedOfWay(table, way.id));
  const does = plan.ok ? [...plan.value.says, ...plan.value.warnings.map(({ says }) => `mind: ${says}`)] : [];
  return (
    <ul class="quiet does">
      {does.map((says) => (
        <li key={says}>{asWritten(session, says)}</li>
      ))}
    </ul>
  );
}

function whereFrom(table: RescueTable): string {
  const sources = new Set(table.columns.flatMap(({ takes }) => takes.firings.map(({ from }) => from)));
  const alone = sources.size === 0 ? "" : ` A firing alone: ${[...sources].join("; ")}.`;
  return `Success is the price less tax, fees, packing and what is then still to do. A firing that rides costs the heat the piece takes.${alone}`;
}

interface Line {
  readonly title: string;
  readonly isStrong?: boolean;
  readonly isGrey?: (terms: RescueTerms) => boolean;
  readonly of: (props: Props, way: WeighedWay, column: RescueColumn | undefined) => ComponentChildren;
}

const amount = (pick: (column: RescueColumn) => number): Line["of"] =>
  function shown({ session }, _, column) {
    return column ? moneyText(session, pick(column)) : "";
  };

const LINES: readonly Line[] = [
  { title: "Expected from now on", isStrong: true, of: ({ session }, { expected }) => moneyText(session, expected) },
  { title: "More than the best way of leaving it", of: ({ session }, { gain }) => moneyText(session, gain) },
  {
    title: "Chance that it comes out well",
    of: (props, _, column) => (column ? <Chance {...props} column={column} /> : ""),
  },
  { title: "Then sold for", of: (props, way) => <SoldFor {...props} way={way} /> },
  { title: "Pays", of: ({ session }, way) => sayBreakEven(session, way) },
  { title: "At best", of: ({ session }, { best }) => moneyText(session, best) },
  { title: "At worst", of: ({ session }, { worst }) => moneyText(session, worst) },
  { title: "Days", of: (_, __, column) => (column ? String(column.recipe.days) : "") },
  { title: "Success brings", of: amount(({ success }) => success) },
  { title: "Failure brings", of: amount(({ failure }) => failure) },
  {
    title: "It costs",
    isStrong: true,
    of: ({ session }, { decision }) => (decision ? moneyText(session, decision.rescueCost) : ""),
  },
  { title: "Material", of: amount(({ takes }) => takes.material) },
  { title: "Work at the wage", isGrey: (terms) => !terms.countsLabour, of: amount(({ takes }) => takes.labour) },
  {
    title: "Overhead of that work",
    isGrey: (terms) => !terms.countsOverhead,
    of: amount(({ takes }) => takes.overhead),
  },
  { title: "Firings, riding along", isGrey: (terms) => !terms.rides, of: amount(({ takes }) => takes.riding) },
  { title: "Firings, alone", isGrey: (terms) => terms.rides, of: amount(({ takes }) => takes.alone) },
  { title: "Room in the kiln", of: amount(({ room }) => room) },
  {
    title: "Spent already, not counted",
    isGrey: () => true,
    of: ({ session, table }) => <s>{moneyText(session, table.spent)}</s>,
  },
];

const MONEY = { unit: "¤", least: 0 };

/** What it is sold at at the end of a way: of a second and of a rescue it may be said for these pieces alone. */
function SoldFor({ session, table, terms, change, way }: WayProps) {
  const sold = table.prices.get(way.id);
  const [text, setText] = useState(sold ? amountText(session, MONEY, sold.price) : "");
  if (!sold) return null;
  const said = `${pricesTyped(session)}; ${otherWay(session, sold.tier, sold.price)}`;
  if (way.id === "as is")
    return (
      <>
        {moneyText(session, sold.price)} <small class="quiet">{said}</small>
      </>
    );
  const key = priceKey(table.pieces, way.id);
  const { [key]: _, ...others } = terms.prices;
  const write = (typed: string) => {
    setText(typed);
    const price = typed.trim() === "" ? Number.NaN : readAmount(session, MONEY, typed).value;
    change({ prices: Number.isNaN(price) ? others : { ...others, [key]: price } });
  };
  return (
    <label class="sold-for">
      <span class="unseen">Price of its own after: {way.title}</span>
      <input
        inputMode="decimal"
        autocomplete="off"
        value={text}
        onInput={(event) => write(event.currentTarget.value)}
      />
      <small class="quiet">{said}</small>
    </label>
  );
}

/** A slider and a number, both of the same chance. */
function Chance({ terms, change, column }: Props & { readonly column: RescueColumn }) {
  const { recipe, chance } = column;
  const set = (percent: number) => {
    if (percent >= 0 && percent <= 100) change({ chances: { ...terms.chances, [recipe.id]: percent / 100 } });
  };
  const shown = String(Math.round(chance * 1000) / 10);
  return (
    <span class="chance">
      <input
        type="range"
        min="0"
        max="100"
        step="1"
        value={shown}
        aria-label={`Chance of ${recipe.title}, in percent`}
        onInput={(event) => set(Number(event.currentTarget.value))}
      />
      <span>
        <input
          type="number"
          min="0"
          max="100"
          step="any"
          value={shown}
          aria-label={`Chance of ${recipe.title} as a number, in percent`}
          onInput={(event) => event.currentTarget.value !== "" && set(Number(event.currentTarget.value))}
        />{" "}
        %
      </span>
    </span>
  );
}
