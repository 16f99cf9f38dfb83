// What may be put into the page as markup, and which scripts may be started.
import { describe, expect, it } from "vitest";
import { isOwnScript, isPlainMarkup } from "../../src/ui/shell/trusted";

describe("markup", () => {
  it("of plain tables and texts passes", () => {
    for (const markup of [
      "",
      "text & more",
      '<table data-ghost-table="rendered"><thead><tr><th data-column="0" colspan="15"><div class="relative"><span class="colHeader"></span></div></th></tr></thead></table>',
      '<TD CLASS="a" style="width: 3px">1 &lt; 2</TD><br/>',
    ])
      expect(isPlainMarkup(markup), markup).toBe(true);
  });

  it("that could run or load anything does not", () => {
    for (const markup of [
      "<script>1</script>",
      '<img src="x" onerror="harm()">',
      '<div onclick="harm()">',
      '<td style="x" onmouseover=harm()>',
      "<svg/onload=harm()>",
      '<a href="javascript:harm()">',
      '<iframe srcdoc="x">',
      "<table><tr><td><style>@import url(x)</style>",
      "<div class='a'>",
      '<div class="a"onclick="harm()">',
      '<div class="<img onerror=harm()>">',
      "<!--><script>",
      "< img src=x onerror=harm()>",
      '<form action="x"><button formaction="javascript:harm()">',
      "<div",
    ])
      expect(isPlainMarkup(markup), markup).toBe(false);
  });
});

describe("script addresses", () => {
  const page = "https://studio.example/saggar/index.html";
  it("are the program's own", () => {
    expect(isOwnScript("./assets/worker-1.js", page)).toBe(true);
    expect(isOwnScript("blob:https://studio.example/1-2", page)).toBe(true);
    for (const address of [
      "https://elsewhere.example/x.js",
      "//elsewhere.example/x.js",
      "data:text/javascript,1",
      "javascript:1",
    ])
      expect(isOwnScript(address, page), address).toBe(false);
  });
});
