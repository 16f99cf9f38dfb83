import { test } from "vitest";
import lustre from "../../templates/lustre/template.json";
import { readTemplate } from "../../src/core/template";
import { readDocument, writeDocument } from "../../src/core/document-file";
import { demoEdition } from "../../src/app/demo";
const t = () => structuredClone(lustre) as any;
const bad: Record<string, (x: any) => any> = {
  null: () => null, list: () => [], text: () => "x", empty: () => ({}),
  wantedText: (x) => ({ ...x, wanted: "60" }), wantedHalf: (x) => ({ ...x, wanted: 1.5 }), wanted0: (x) => ({ ...x, wanted: 0 }),
  extra: (x) => ({ ...x, colour: 1 }), id: (x) => ({ ...x, id: "My Template" }), version: (x) => ({ ...x, version: 0 }),
  kind: (x) => { x.route[4].kind = "dip"; return x; },
  coats: (x) => { x.route[4].cells.coats = -1; return x; },
  coatsHalf: (x) => { x.route[4].cells.coats = 2.5; return x; },
  loss: (x) => { x.route[4].cells.loss = 1; return x; },
  textNum: (x) => { x.route[4].cells.minutes = "three"; return x; },
  bool: (x) => { x.route[4].cells.minutes = true; return x; },
  nan: (x) => { x.route[4].cells.minutes = Number.NaN; return x; },
  inf: (x) => { x.inputs.wage = Number.POSITIVE_INFINITY; return x; },
  mat: (x) => { x.route[0].cells.material = "Slip"; return x; },
  kiln: (x) => { x.route[3].cells.kiln = "Gas"; return x; },
  input: (x) => { x.inputs.wages = 3; return x; },
  inputComputed: (x) => { x.inputs.starts = 3; return x; },
  inputNeg: (x) => { x.inputs.wage = -3; return x; },
  proto: (x) => { x.inputs = JSON.parse('{"__proto__": 5}'); return x; },
  ctor: (x) => { x.inputs.constructor = 5; return x; },
  protoCell: (x) => { x.route[0].cells = JSON.parse('{"__proto__": 5, "material": "Stoneware slip"}'); return x; },
  ctorCell: (x) => { x.route[0].cells = JSON.parse('{"constructor": 5, "material": "Stoneware slip"}'); return x; },
  col: (x) => { x.route[0].cells.colour = 5; return x; },
  hidden: (x) => { x.route[0].cells.order = 5; return x; },
  computed: (x) => { x.route[0].cells.per_gram = 5; return x; },
  title: (x) => { x.route[0].cells.title = "Other"; return x; },
  kindCell: (x) => { x.route[0].cells.kind = "metal"; return x; },
  twiceId: (x) => { x.route[1].id = "cast"; return x; },
  twiceTitle: (x) => { x.route[1].title = "Cast"; return x; },
  stepCtor: (x) => { x.route[1].id = "constructor"; return x; },
  noKilns: (x) => ({ ...x, kilns: [] }), noRoute: (x) => ({ ...x, route: [] }),
  matMissing: (x) => { delete x.materials[0].pack_price; return x; },
  matTwice: (x) => { x.materials[1].id = x.materials[0].id; return x; },
  matSort: (x) => { x.materials[1].sort = "paint"; return x; },
  stepIdLead: (x) => { x.route[1].id = "lost_at"; return x; },
};
test("x", () => {
  for (const [name, f] of Object.entries(bad)) {
    let r; try { r = readTemplate(f(t()), "templates/x/template.json"); } catch (e) { console.log(name, "THROWS", (e as Error).stack?.slice(0, 300)); continue; }
    console.log(name, r.ok ? "OK!!!" : r.problems.map((p) => `${p.code} | ${p.message}`));
  }
  const text = writeDocument(demoEdition());
  const docs: Record<string, string> = {
    empty: "", html: "<html>", half: text.slice(0, 5000), list: "[]", null: "null", other: '{"a":1}',
    newer: text.replace('"formatVersion":1', '"formatVersion":7'), v0: text.replace('"formatVersion":1', '"formatVersion":0'), vtext: text.replace('"formatVersion":1', '"formatVersion":"1"'),
    bom: "\uFEFF" + text,
    protoTop: text.replace('{"kind"', '{"__proto__":{"polluted":1},"kind"'),
    unknownTop: text.replace('{"kind"', '{"later":{"a":[1]},"kind"'),
    protoCell: text.replace('"cells":{"piece":"001"', '"cells":{"__proto__":1,"piece":"001"'),
    ctorCell: text.replace('"cells":{"piece":"001"', '"cells":{"constructor":1,"piece":"001"'),
    sheetExtra: text.replace('"sheets":{', '"sheets":{"hidden":{},'),
    sheetGone: text.replace('"kilns":{"title"', '"kilnz":{"title"'),
    coats: text.replace('"glaze.coats":3', '"glaze.coats":-3'),
    coatsText: text.replace('"glaze.coats":3', '"glaze.coats":"three"'),
    firing: text.replace('"bisque.firing":"B1"', '"bisque.firing":"B77"'),
    kind: text.replace('"kind":"metal"', '"kind":"gold"'),
    colkind: text.replace('"kind":"computed"', '"kind":"magic"'),
    loss: text.replace('"loss":0.02', '"loss":1'),
    lossNeg: text.replace('"loss":0.02', '"loss":-0.02'),
    date: text.replace('"date":"2026-09-21"', '"date":"2026-02-30"'),
    currency: text.replace('"currency":"EUR"', '"currency":"euro"'),
    rowTwice: text.replace('"id":"p2"', '"id":"p1"'),
    colTwice: text.replace('"key":"cast.mould"', '"key":"cast.slip"'),
    formula: text.replace('"glaze.coats":3', '"glaze.coats":{"f":"SUM(1)"}'),
    formulaBad: text.replace('"glaze.coats":3', '"glaze.coats":{"f":"=SUM(","x":1}'),
    bool: text.replace('"glaze.coats":3', '"glaze.coats":true'),
    nul: text.replace('"glaze.coats":3', '"glaze.coats":null'),
    title: text.replace('"title":"Marram"', '"title":""'),
    rowid: text.replace('"id":"p2"', '"id":"P 2"'),
  };
  for (const [name, d] of Object.entries(docs)) {
    let r; try { r = readDocument(d, "x.edition.json"); } catch (e) { console.log(name, "THROWS", (e as Error).stack?.slice(0, 300)); continue; }
    console.log(name, d === text ? "SAME TEXT" : "", r.ok ? `OK!!! ${Object.keys(r.value)}` : r.problems.slice(0, 3).map((p) => `${p.code} | ${p.message}`));
  }
});
