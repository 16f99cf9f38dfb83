// The whole program as one HTML file that works from a disk: scripts, styles and workers stand in the page.
import type { Plugin } from "vite";
import { withPolicy } from "./policy.ts";
import { inlineWorkers } from "./workers.ts";

/** Gives workers as text, and puts everything into the page. `notes` are texts that have to go with it, by name. */
export function singleFile(fileName: string, notes: Readonly<Record<string, string>>): Plugin[] {
  return [
    inlineWorkers(),
    {
      name: "single-file",
      enforce: "post",
      generateBundle: {
        order: "post",
        handler(_options, bundle) {
          const page = bundle["index.html"];
          if (page?.type !== "asset") throw new Error("there is no page to put everything in");
          const scripts: string[] = [];
          // What it would tell of can't be missing here.
          let html = put(String(page.source), /<script src="\.?\/boot\.js"><\/script>\s*/, "");
          for (const [name, file] of Object.entries(bundle)) {
            if (file.type === "chunk") {
              // Nothing in a script may look like its end, or like the beginning of a comment of the page.
              const script = file.code.replaceAll("</script", "<\\/script").replaceAll("<!--", "<\\!--");
              scripts.push(script);
              html = put(html, new RegExp(`<script [^>]*${escaped(name)}"[^>]*></script>`), "");
              html = put(html, /<\/body>/, `<script type="module">${script}</script>\n</body>`);
            } else if (name.endsWith(".css")) {
              html = put(
                html,
                new RegExp(`<link [^>]*${escaped(name)}"[^>]*>`),
                `<style>${String(file.source)}</style>`,
              );
            } else continue;
            delete bundle[name];
          }
          for (const [name, text] of Object.entries(notes))
            html = put(
              html,
              /<\/body>/,
              `<script type="text/plain" data-licence="${name}">\n${plain(text)}</script>\n</body>`,
            );
          delete bundle["index.html"];
          this.emitFile({ type: "asset", fileName, source: withPolicy(html, scripts) });
        },
      },
    },
  ];
}

const plain = (text: string) => text.replaceAll("</script", "</ script").replaceAll("<!--", "< !--");
const escaped = (name: string) => name.replaceAll(/[.*+?^${}()|[\]\\]/g, "\\$&");

/** Replaces one marker, which has to be there; the text is put in as it is. */
function put(html: string, marker: RegExp, text: string): string {
  if (!marker.test(html)) throw new Error(`the page has no place for ${marker}`);
  return html.replace(marker, () => text);
}
