// Several pictures under one another in one, so that they are saved as one.

const SVG = "http://www.w3.org/2000/svg";

/** One picture of several, from top to bottom, each as high as it is. */
export function stack(parts: readonly (SVGSVGElement | HTMLElement)[], width: number, gap = 6): SVGSVGElement {
  const [first] = parts;
  if (!first) throw new Error("nothing to stack");
  const whole = first.ownerDocument.createElementNS(SVG, "svg");
  let top = 0;
  for (const part of parts) {
    const height = Number(part.getAttribute("height"));
    part.setAttribute("y", `${top}`);
    whole.append(part);
    top += height + gap;
  }
  whole.setAttribute("width", `${width}`);
  whole.setAttribute("height", `${top - gap}`);
  whole.setAttribute("viewBox", `0 0 ${width} ${top - gap}`);
  return whole;
}
