// `npm start` keeps to its address: what is kept in a browser belongs to the address it was made at.
import { spawn } from "node:child_process";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";

const start = fileURLToPath(new URL("../../src/build/start.mjs", import.meta.url));

/** Starts where something else answers with `html`, and gives what was said and how it ended. */
async function startBeside(html: string): Promise<{ said: string; code: number | null; address: string }> {
  const server = createServer((_request, response) => response.end(html));
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  const { port } = server.address() as AddressInfo;
  const env = { ...process.env, BROWSER: "none" };
  const child = spawn(process.execPath, [start, "--port", String(port)], { env, stdio: ["ignore", "pipe", "inherit"] });
  let said = "";
  child.stdout.on("data", (data) => {
    said += data;
  });
  const code = await new Promise<number | null>((done) => child.on("close", done));
  server.close();
  server.closeAllConnections();
  return { said, code, address: `http://127.0.0.1:${port}/` };
}

it("opens the Saggar that is running there, and says so in one sentence", async () => {
  const { said, code, address } = await startBeside("<!doctype html><title>Saggar</title>");
  expect(code).toBe(0);
  expect(said).toBe(
    `Another Saggar is running already, so that one is opened; to start this one, end it first.\n${address}\n`,
  );
});

it("takes no other address by itself where another program is there", async () => {
  const { said, code, address } = await startBeside("<title>Something else</title>");
  expect(code).toBe(1);
  expect(said.split("\n")).toEqual([
    expect.stringContaining("another program uses its address"),
    expect.stringContaining("-- --port"),
    address,
    "",
  ]);
});
