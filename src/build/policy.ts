// The content-security policy of what is built: in the page itself, and as headers where it is served from here.
import { createHash } from "node:crypto";
import type { Plugin } from "vite";

type Directives = Readonly<Record<string, readonly string[]>>;

/**
 * What the page may do. Styles may stand in the page because the grid library puts its own there, without a nonce; nothing
 * else may. Connections are forbidden outright: the page never asks any server for anything.
 */
const PAGE: Directives = {
  "default-src": ["'none'"],
  "script-src": ["'self'"],
  "style-src": ["'self'", "'unsafe-inline'"],
  "img-src": ["'self'", "data:", "blob:"],
  "font-src": ["'self'"],
  "connect-src": ["'none'"],
  // In blobs, so that they have this policy too (`workersUnderPolicy`); the service worker is a file.
  "worker-src": ["'self'", "blob:"],
  "manifest-src": ["'self'"],
  "base-uri": ["'none'"],
  "form-action": ["'none'"],
  // Markup and script addresses pass `src/ui/shell/trusted.ts`, in browsers that know this.
  "require-trusted-types-for": ["'script'"],
  "trusted-types": ["default", "reading"],
};

/** The single file has its scripts in the page, each known by its hash, and its workers in blobs. */
function singlePolicy(scripts: readonly string[]): Directives {
  const hashes = scripts.map((script) => `'sha256-${createHash("sha256").update(script).digest("base64")}'`);
  return {
    ...PAGE,
    "script-src": hashes,
    "style-src": ["'unsafe-inline'"],
    "img-src": ["data:", "blob:"],
    "font-src": ["data:"],
    "worker-src": ["blob:"],
    "manifest-src": ["'none'"],
  };
}

/** The service worker fetches the program's own files, and runs nothing else. */
const SERVICE_WORKER: Directives = { "default-src": ["'none'"], "connect-src": ["'self'"] };

/** Headers for whoever serves a build; `frame-ancestors` can't be said in the page. */
const HEADERS = {
  "x-content-type-options": "nosniff",
  "referrer-policy": "no-referrer",
  "cross-origin-opener-policy": "same-origin",
  "permissions-policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
} as const;

function textOf(directives: Directives): string {
  return Object.entries(directives)
    .map(([name, values]) => `${name} ${values.join(" ")}`)
    .join("; ");
}

/** The page with the policy as its first word; `inline` are the scripts that stand in it. */
export function withPolicy(html: string, inline?: readonly string[]): string {
  const policy = textOf(inline ? singlePolicy(inline) : PAGE);
  return html.replace(
    /<meta charset="utf-8" ?\/?>/i,
    (charset) => `${charset}\n    <meta http-equiv="Content-Security-Policy" content="${policy}" />`,
  );
}

/** Puts the policy into the built page, and serves builds with it. Without effect on the page that is being worked on. */
export function policy(): Plugin {
  return {
    name: "policy",
    transformIndexHtml: { order: "post", handler: (html, { server }) => (server ? html : withPolicy(html)) },
    configurePreviewServer(server) {
      server.middlewares.use((request, response, next) => {
        const isWorker = request.url?.split("?")[0]?.endsWith("/service-worker.js") ?? false;
        for (const [name, value] of Object.entries(HEADERS)) response.setHeader(name, value);
        response.setHeader(
          "content-security-policy",
          textOf(isWorker ? SERVICE_WORKER : { ...PAGE, "frame-ancestors": ["'none'"] }),
        );
        next();
      });
    },
  };
}
