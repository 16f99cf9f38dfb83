import { describe, expect, test } from "vitest";
import { demoEdition } from "../../src/app/demo";
import { WhatIfDesk } from "../../src/app/whatif-desk";
import { QUESTIONS } from "../../src/app/whatif-settings";
import { askByEngine } from "../../src/app/whatif-slow";
import { openSession } from "../tools/open-session";

const breathe = () => Promise.resolve();
describe("desk", () => {
  test("every question", async () => {
    const { session, settled } = openSession(demoEdition());
    await settled();
    const desk = new WhatIfDesk(session, { startClient: (s) => askByEngine(() => s.book.value, breathe), breathe });
    desk.open();
    for (const { id } of QUESTIONS) {
      desk.change({ question: id });
      const t = performance.now();
      for (let i = 0; i < 200 && (desk.state.value.is !== "resting" || desk.answer.value?.is !== id); i += 1)
        await new Promise((r) => setTimeout(r, 20));
      console.log(
        id,
        desk.state.value,
        Math.round(performance.now() - t),
        desk.answer.value?.results.map((r, at) => `${r.title} ${desk.answer.value?.today[at]}`),
      );
    }
    desk.close();
    session.close();
  });
});
