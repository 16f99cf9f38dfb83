// Nothing from data is ever run, nothing leaves the page, and the policy holds.
import { expect, test as loud, type Page } from "@playwright/test";
import { arrowTo, cardValue, open, openText, savedText, settled, test, toPlace, toSheet } from "./page";

const SCRIPT = `<img src="x" onerror="window.harmed=1"><script>window.harmed=1</script><svg onload="window.harmed=1">`;

/** Puts script into every text of an edition that a maker can name. */
function poison(text: string): string {
  const book = JSON.parse(text);
  book.meta.title = `T ${SCRIPT}`;
  book.meta.note = SCRIPT;
  // A file holds the titles that the maker changed; here that is the first columns of every sheet.
  const first = { pieces: "piece", route: "title", materials: "id", kilns: "id", firings: "id", edition: "label" };
  for (const [sheet, key] of Object.entries(first)) book.sheets[sheet].changed = [{ key, title: `${key} ${SCRIPT}` }];
  book.sheets.pieces.changed.push({ key: "note", title: `note ${SCRIPT}` });
  for (const row of book.sheets.pieces.rows) row.cells.note = SCRIPT;
  for (const row of book.sheets.route.rows) row.cells.title = `${row.cells.title} ${SCRIPT}`;
  for (const row of book.sheets.edition.rows) row.cells.label = `${row.id} ${SCRIPT}`;
  for (const row of book.sheets.results.rows) row.cells.label = `${row.id} ${SCRIPT}`;
  return JSON.stringify(book);
}

test.beforeEach(async ({ page }) => {
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, "showSaveFilePicker");
    Reflect.deleteProperty(window, "showOpenFilePicker");
    const broken: string[] = [];
    Reflect.set(window, "broken", broken);
    document.addEventListener("securitypolicyviolation", (event) =>
      broken.push(`${event.violatedDirective}: ${event.blockedURI} ${event.sample}`),
    );
  });
});

const harm = (page: Page) =>
  page.evaluate((): [unknown, readonly string[]] => [Reflect.get(window, "harmed"), Reflect.get(window, "broken")]);

test("script in every title, name, note and cell is shown as text and never runs", async ({ page }) => {
  await open(page);
  await openText(page, poison(await savedText(page)));
  await settled(page);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(`T ${SCRIPT}`);
  const sheets = page.getByRole("navigation").getByRole("button");
  for (let at = 0; at < (await sheets.count()); at += 1) {
    await sheets.nth(at).click();
    await expect(sheets.nth(at)).toHaveAttribute("aria-current", /page|true/);
    await expect(page.locator("main > :last-child")).toBeVisible();
    await settled(page);
    await page.keyboard.press("Alt+3");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("ArrowRight");
  }
  await sheets.filter({ hasText: /^Pieces/ }).click();
  for (const name of ["Editions…", "Start an edition…", "CSV…"]) {
    await page.getByRole("button", { name }).click();
    await expect(page.getByRole("dialog")).toBeVisible();
    await page.keyboard.press("Escape");
  }
  await page.emulateMedia({ media: "print" });
  await page.emulateMedia({ media: "screen" });
  expect(await harm(page)).toEqual([undefined, []]);
  expect(await page.locator("img[src=x], svg[onload]").count()).toBe(0);
});

test("a CSV with script and formulas is shown as text", async ({ page }) => {
  await open(page);
  await page.getByRole("button", { name: "CSV…" }).click();
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Choose a file…" }).click(),
  ]);
  const csv = `Piece,note,"${SCRIPT.replaceAll('"', '""')}"\n020,"${SCRIPT.replaceAll('"', '""')}",x\n021,=1+1,y\n`;
  await chooser.setFiles({ name: `${"<b>"}evil.csv`, mimeType: "text/csv", buffer: Buffer.from(csv) });
  await expect(page.getByRole("dialog")).toContainText("<img src=");
  expect(await harm(page)).toEqual([undefined, []]);
});

// The browser says of each handler in the pasted markup that it was stopped, though nothing would run it.
loud("a table that is pasted with script in it comes in as text", async ({ page }) => {
  await open(page);
  await toSheet(page);
  await arrowTo(page, "note");
  await page.evaluate((script) => {
    const data = new DataTransfer();
    data.setData("text/html", `<table><tr><td>${script}<b>bold</b> words</td></tr></table>`);
    document.activeElement?.dispatchEvent(
      new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }),
    );
  }, SCRIPT);
  await expect(cardValue(page)).toContainText("bold words");
  const [harmed, broken] = await harm(page);
  expect(harmed).toBeUndefined();
  for (const one of broken) expect(one).toMatch(/^script-src-attr: inline/);
});

test("a whole run asks only its own origin for its own files, and breaks no policy", async ({ page, baseURL }) => {
  const asked: string[] = [];
  page.on("request", (request) => asked.push(`${request.method()} ${request.url()}`));
  page.on("websocket", (socket) => asked.push(`socket ${socket.url()}`));
  await open(page);
  for (const sheet of ["Route", "Results", "Kilns", "Pieces"]) await toPlace(page, sheet);
  await page.keyboard.press("Alt+h");
  await expect(page.getByRole("dialog", { name: "Help" })).toBeVisible();
  await page.keyboard.press("Escape");
  await savedText(page);
  const own = new URL(baseURL ?? "").origin;
  const others = asked.filter(
    (one) =>
      !new RegExp(`^GET ${own}/(|assets/[\\w.-]+\\.(js|css)|[\\w-]+\\.(svg|png|webmanifest|js))$`).test(one) &&
      !/^GET (data|blob):/.test(one),
  );
  expect(others).toEqual([]);
  expect(asked.length).toBeGreaterThan(5);
  expect(await harm(page)).toEqual([undefined, []]);
});

// Not the quiet test of the others: what is stopped is said on the console.
loud("the policy stops what it has to stop", async ({ page, baseURL }) => {
  const response = await page.goto("./");
  const header = response?.headers()["content-security-policy"] ?? "";
  const meta = (await page.locator("meta[http-equiv]").getAttribute("content")) ?? "";
  for (const policy of [header, meta]) {
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("connect-src 'none'");
    expect(policy).toMatch(/script-src 'self'(;|$)/);
    expect(policy).not.toContain("unsafe-eval");
    expect(policy).toContain("require-trusted-types-for 'script'");
  }
  expect(header).toContain("frame-ancestors 'none'");
  expect(response?.headers()).toMatchObject({ "x-content-type-options": "nosniff", "referrer-policy": "no-referrer" });
  const tried = await page.evaluate(async (url) => {
    const outcome = async (work: () => unknown) => {
      try {
        await work();
        return "done";
      } catch {
        return "stopped";
      }
    };
    const put = (markup: string) => {
      const place = document.createElement("div");
      document.body.append(place);
      place.innerHTML = markup;
    };
    return {
      inline: await outcome(() => {
        const script = document.createElement("script");
        script.textContent = "window.harmed = 1";
        document.body.append(script);
      }),
      markup: await outcome(() => put('<img src="x" onerror="window.harmed = 1">')),
      plain: await outcome(() => put("<table><tr><td>1</td></tr></table>")),
      worker: await outcome(() => new Worker("https://elsewhere.example/x.js")),
      fetched: await outcome(() => fetch(`${url}manifest.webmanifest`)),
      harmed: Reflect.get(window, "harmed"),
    };
  }, baseURL);
  const stopped = { inline: "stopped", markup: "stopped", worker: "stopped", fetched: "stopped" };
  expect(tried).toEqual({ ...stopped, plain: "done", harmed: undefined });
});

test("a formula made to hang can be stopped; the page stays usable and calculates again after the next edit", async ({
  page,
}) => {
  await open(page);
  const book = JSON.parse(await savedText(page));
  // Every one of six thousand rows goes through all of them, two dozen times over.
  const [first] = book.sheets.pieces.rows;
  const f = `=SUMPRODUCT(${new Array(24).fill("({pieces:glaze.coats}>0)").join("*")})`;
  book.sheets.pieces.rows = Array.from({ length: 6000 }, (_, at) => ({
    ...first,
    id: `q${at}`,
    cells: { ...first.cells, piece: `q${at}`, "glaze.coats": 2, kg: { f } },
  }));
  await openText(page, JSON.stringify(book));
  await page.getByRole("button", { name: "Stop", exact: true }).click();
  await expect(page.getByTestId("notice-failed").last()).toContainText("The calculation was stopped");
  await expect(page.locator(".top")).toContainText("Not calculating");
});
