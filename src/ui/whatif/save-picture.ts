// A picture of the page as a file of its own: the colours of the page written into it, and its ground behind it.

interface Standalone {
  readonly text: string;
  readonly width: number;
  readonly height: number;
}

/** The SVG text of a drawn picture that looks the same anywhere. */
export function standaloneSvg(drawn: SVGSVGElement): Standalone {
  const [width, height] = [Number(drawn.getAttribute("width")), Number(drawn.getAttribute("height"))];
  const copy = drawn.cloneNode(true) as SVGSVGElement;
  copy.removeAttribute("aria-hidden");
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  const tokens = getComputedStyle(document.documentElement);
  const resolve = (text: string) =>
    text.replace(/var\((--[\w-]+)\)/g, (_, name) => tokens.getPropertyValue(name).trim());
  for (const element of [copy, ...copy.querySelectorAll("*")])
    for (const { name, value } of [...element.attributes])
      if (value.includes("var(")) element.setAttribute(name, resolve(value));
  for (const style of copy.querySelectorAll("style")) style.textContent = resolve(style.textContent ?? "");
  const ground = document.createElementNS("http://www.w3.org/2000/svg", "rect");
  const attributes = {
    x: "-12",
    y: "-12",
    width: `${width + 24}`,
    height: `${height + 24}`,
    fill: tokens.getPropertyValue("--card").trim(),
  };
  for (const [name, value] of Object.entries(attributes)) ground.setAttribute(name, value);
  copy.prepend(ground);
  copy.setAttribute("viewBox", `-12 -12 ${width + 24} ${height + 24}`);
  copy.setAttribute("width", `${width + 24}`);
  copy.setAttribute("height", `${height + 24}`);
  return { text: new XMLSerializer().serializeToString(copy), width: width + 24, height: height + 24 };
}

/** The same as a PNG of twice its size, drawn in the page. */
export async function pngOf({ text, width, height }: Standalone): Promise<Uint8Array<ArrayBuffer>> {
  const url = URL.createObjectURL(new Blob([text], { type: "image/svg+xml" }));
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const canvas = document.createElement("canvas");
    canvas.width = width * 2;
    canvas.height = height * 2;
    canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
    return new Uint8Array((await blob?.arrayBuffer()) ?? new ArrayBuffer(0));
  } finally {
    URL.revokeObjectURL(url);
  }
}
