// Help: keys, functions with examples, cautions. All of it comes from the tables the workbook itself uses.
import { useState } from "preact/hooks";
import { SHORTCUTS } from "../../app/shortcuts";
import { CAUTIONS } from "../../core/sheets/cautions";
import { allowedArgument } from "../../engine/functions/arguments";
import { FUNCTIONS } from "../../engine/functions/index";
import { closeDialog } from "../open-dialog";
import { Dialog } from "./dialog";

export function HelpDialog() {
  const [wanted, setWanted] = useState("");
  const words = wanted.toLowerCase();
  const found = FUNCTIONS.filter((one) => `${one.name} ${one.summary} ${one.family}`.toLowerCase().includes(words));
  return (
    <Dialog title="Help" onClose={closeDialog}>
      <h3>In the sheet</h3>
      <p>
        Underlined cells take an entry; the others are computed. ◂ marks a computed value that was given by hand;
        slanted grey is what an entry starts from. Arrows move, Enter or F2 edits, Delete clears, Ctrl C and Ctrl V copy
        and paste. Press Escape, then Tab, to leave the sheet by keyboard.
      </p>
      <table class="plain-table">
        <tbody>
          {SHORTCUTS.map((shortcut) => (
            <tr key={shortcut.id}>
              <th scope="row">{shortcut.title}</th>
              <td>{shortcut.keys}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <h3>Functions</h3>
      <input
        type="search"
        placeholder="Find a function"
        aria-label="Find a function"
        value={wanted}
        onInput={(event) => setWanted(event.currentTarget.value)}
      />
      <dl>
        {found.map((one) => (
          <div key={one.name}>
            <dt class="mono">
              {one.name}({one.parameters.map((parameter) => parameter.name).join(", ")})
            </dt>
            <dd>
              {one.summary} {one.unit ? `Gives ${one.unit}.` : ""}
              <br />
              <small class="quiet">
                {one.parameters
                  .map((parameter) => `${parameter.name}: ${parameter.what} (${allowedArgument(parameter)})`)
                  .join("; ")}
                .{one.examples.map((example) => ` ${example.formula} gives ${example.gives}.`)}
              </small>
            </dd>
          </div>
        ))}
      </dl>
      {found.length === 0 ? (
        <p class="quiet">
          No function of ours has that in its name or summary. Ordinary ones, such as SUM, IF and ROUNDUP, work too.
        </p>
      ) : null}
      <h3>Cautions</h3>
      {Object.values(CAUTIONS).map((caution) => (
        <p key={caution.id}>
          <b>{caution.title}.</b> {caution.text}
        </p>
      ))}
      <div class="actions">
        <button type="button" class="act" onClick={closeDialog}>
          Close
        </button>
      </div>
    </Dialog>
  );
}
