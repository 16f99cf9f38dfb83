// What each kiln was metered at, over all kept editions: by programme, and firing by firing.
import "../controls/plain-table.css";
import { useState } from "preact/hooks";
import { showNumber } from "../../app/edition/format";
import type { Session } from "../../app/edition/session";
import { dayText } from "../../app/edition/written-days";
import type { Studio } from "../../app/keeping/studio";
import { energyOf, type KeptFiring, readMeters } from "../../app/plan/kept-firings";
import { CONFIDENCE } from "../../app/plan/seen-plan";
import { counted } from "../../core/counted";
import { nameKey } from "../../core/same-name";
import { Scrolled } from "../controls/scrolled";
import { TableHead } from "../controls/table-head";

interface Props {
  readonly session: Session;
  readonly studio: Studio;
}

/** More of one kiln would only make the page slow. */
const FIRINGS_SHOWN = 200;

/** One press looks through the editions; what was found stays until the page is left. */
export function KilnHistory({ session, studio }: Props) {
  const [firings, setFirings] = useState<readonly KeptFiring[] | undefined>(undefined);
  const [progress, setProgress] = useState("");
  const read = async () => {
    setProgress("Looking…");
    setFirings(await readMeters(studio, (at, of) => setProgress(`Looking at edition ${at + 1} of ${of}…`)));
    setProgress("");
  };
  const kilns = new Map<string, KeptFiring[]>();
  for (const firing of firings ?? []) {
    const name = nameKey(firing.kiln);
    kilns.set(name, [...(kilns.get(name) ?? []), firing]);
  }
  return (
    <section aria-label="What the kilns were metered at" data-testid="kiln-history">
      <div class="head">
        <h3>What the kilns were metered at</h3>
        <button type="button" disabled={progress !== ""} onClick={() => void read()}>
          {firings ? "Look again" : "Look through all editions kept here"}
        </button>
      </div>
      <p class="quiet" role="status">
        {progress || (firings?.length === 0 ? "No meter was read in any edition kept here." : "")}
      </p>
      {[...kilns].map(([name, of]) => (
        <OneKiln key={name} session={session} firings={of} />
      ))}
    </section>
  );
}

function OneKiln({ session, firings }: { readonly session: Session; readonly firings: readonly KeptFiring[] }) {
  const { locale } = session.formats;
  const kwh = (amount: number | undefined) => (amount === undefined ? "" : showNumber(amount, 1, 1, locale));
  const energies = energyOf(firings, CONFIDENCE);
  return (
    <details>
      <summary>
        {firings[0]?.kiln}: {counted(firings.length, "firing")}
      </summary>
      <ul>
        {energies.map(({ programme, known, firings: count, editions }) => (
          <li key={programme}>
            <span>
              <b>{programme || "no programme"}</b> took {kwh(known.value)} kWh in {counted(count, "firing")} of{" "}
              {counted(editions, "edition")}
              {Number.isFinite(known.low) ? `; 95 %: ${kwh(Math.max(0, known.low))} to ${kwh(known.high)} kWh` : ""}.
            </span>
          </li>
        ))}
      </ul>
      <Scrolled class="metered" label={`Firings of ${firings[0]?.kiln}`}>
        <table class="plain-table">
          <TableHead titles={["Day", "Firing", "Programme", "Edition", "metered kWh", "the model said"]} numbers={2} />
          <tbody>
            {firings.slice(0, FIRINGS_SHOWN).map((one) => (
              <tr key={`${one.edition} ${one.name}`}>
                <td>{dayText(one.day, locale)}</td>
                <th scope="row">{one.name}</th>
                <td>{one.programme}</td>
                <td>{one.edition}</td>
                <td class="number">{kwh(one.kwh)}</td>
                <td class="number">{kwh(one.model)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scrolled>
      {firings.length > FIRINGS_SHOWN ? (
        <p class="quiet">The newest {counted(FIRINGS_SHOWN, "firing")} are shown; all are counted above.</p>
      ) : null}
    </details>
  );
}
