import { test } from "vitest";
import { demoEdition } from "../../src/app/demo";
import { writeEntries } from "../../src/core/edits";
import { applyChange } from "../../src/core/change";
import { checkTypedFormula, readableFormula } from "../../src/core/typed-formula";
import { Engine } from "../../src/engine/engine";
import { ValueStore } from "../../src/engine/values";
import type { SheetKey } from "../../src/core/workbook";
const book = demoEdition();
test("entries", () => {
  const t: [SheetKey, string, string, string][] = [
    ["pieces","p1","glaze.coats","three"],["pieces","p1","glaze.coats","-1"],["pieces","p1","glaze.coats","2.5"],["pieces","p1","glaze.coats","51"],
    ["pieces","p1","bisque.firing","B77"],["pieces","p1","bisque.firing","b1"],["pieces","p1","tier","gold"],["pieces","p1","piece",""],["pieces","p1","piece","002"],
    ["route","cast","loss","100"],["route","cast","loss","100%"],["route","cast","loss","-1"],["route","cast","loss","1,5"],["route","cast","loss","12.5"],["route","cast","loss","99.999"],
    ["route","cast","kind","metal"],["route","cast","title","Dry"],["route","cast","title",""],["route","cast","order","5"],
    ["pieces","p1","own","5"],["pieces","p1","lost_bare","x"],["pieces","p1","cast.slip","1,900"],["pieces","p1","cast.slip","1,900.5"],["pieces","p1","cast.slip","1900,5"],["pieces","p1","cast.slip","1 900"],["pieces","p1","cast.slip","1e3"],["pieces","p1","cast.slip","1e999"],["pieces","p1","cast.slip","Infinity"],["pieces","p1","cast.slip","0x10"],["pieces","p1","cast.slip","€5"],["pieces","p1","cast.slip","-0"],["pieces","p1","cast.slip","−5"],
    ["firings","f1","date","21.9.2026"],["firings","f1","date","2026-02-29"],["firings","f1","date","=1+1"],["firings","f1","id","B2"],["firings","f1","id","b2"],
    ["edition","wanted","value","0"],["edition","wanted","value","20001"],["edition","confidence","value","100"],["edition","starts","value","5"],["edition","wage","value","=1+"],["edition","wage","value","=A1"],["edition","wage","value","=wagee"],["edition","wage","value","={value"],["edition","wage","value","={nope}"],["edition","wage","value","=FOO(1)"],
    ["pieces","p1","note","=1+1"],["pieces","p1","note","007"],["pieces","p1","reason","x".repeat(5001)],
    ["pieces","p1","glaze.area","={glaze.coats}*100"],["pieces","p1","glaze.area","={Glaze: coats}*100"],["pieces","p1","glaze.area","={coats}*100"],["pieces","p1","glaze.area","={route[glazee]:area}"],["pieces","p1","glaze.area","=k2*2"],
    ["materials","m1","pack_grams","0"],["kilns","k1","duty","101"],["kilns","k1","duty","60 %"],
  ];
  for (const [sheet,row,column,typed] of t) {
    const o = writeEntries(book, [{cell:{sheet,row,column}, typed}], {label:"x", marks:{decimal:"."}, override:false});
    console.log(typed.slice(0,20), "=>", o.refused.length ? o.refused.map(p=>`${p.code} | ${p.message}`) : JSON.stringify(o.change.operations.map((x: any)=>x.is)).slice(0,100));
  }
});
test("troubles", () => {
  const t: [SheetKey, string, string, string][] = [
    ["pieces","p1","glaze.area","=1/0"],["pieces","p1","glaze.area","=FOO(1)"],["pieces","p1","glaze.area","=COAT_GRAM(1,2,3)"],["pieces","p1","glaze.area","=1+"],["pieces","p1","glaze.area","=SUM("],["pieces","p1","glaze.area","={glaze.cost}"],
    ["pieces","p1","glaze.area",'=PICK("G99",{firings:id},{firings:cost})'],["pieces","p1","glaze.area","=COAT_GRAMS(1,-2,3)"],["pieces","p1","glaze.area",'="a"+1'],["pieces","p1","glaze.area","=SQRT(-1)"],["pieces","p1","glaze.area","=COAT_GRAMS(1)"],["pieces","p1","glaze.area","=COAT_GRAMS(1,2,3,4,5)"],["pieces","p1","glaze.area","=TRUE"],["pieces","p1","glaze.area","=SUM({pieces:glaze.area})"],["pieces","p1","glaze.area",'=PICK({firings:id},{firings:id},{firings:cost})'],["pieces","p1","glaze.area",'=STARTS_NEEDED(10,0)'],["pieces","p1","glaze.area",'=YIELD_CHAIN({route:title})'],["pieces","p1","glaze.area",'=FIRING_SHARE("G99",1)'],["pieces","p1","glaze.area",'=FIRING_SHARE("B1")'],["pieces","p1","glaze.area",'=1E400'],["pieces","p1","glaze.area",'=10^400'],["pieces","p1","glaze.area",'="x"'],["pieces","p1","glaze.area",'=-5'],
  ];
  for (const [sheet,row,column,typed] of t) {
    const o = writeEntries(book, [{cell:{sheet,row,column}, typed}], {label:"x", marks:{decimal:"."}, override:false});
    if (o.refused.length) { console.log(typed, "REFUSED", o.refused.map(p=>p.message)); continue; }
    const e = new Engine(book); const s = new ValueStore(book); s.accept(e.values());
    s.follow(o.change); s.accept(e.apply(o.change));
    console.log(typed, e.linked(sheet,row,column), JSON.stringify(s.get(sheet,row,column)), "\n   own:", JSON.stringify(s.get(sheet,row,"own")));
    e.close();
  }
});
