// All that code without a page may use of the browser besides the language itself: no elements, timers, storage or network.
// Included by the layers that compile without the DOM library (their tsconfig.json); the others have the library's own
// declarations, which these are a part of. Source: the standards named beside them.

// HTML Standard, Web workers and messages.
interface MessageEvent<Data = unknown> {
  readonly data: Data;
}
interface ErrorEvent {
  readonly message: string;
}
declare class Worker {
  constructor(script: URL, options: { readonly type: "module"; readonly name: string });
  // biome-ignore lint/suspicious/noExplicitAny: each client says what its worker answers.
  onmessage: ((event: MessageEvent<any>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  postMessage(message: unknown, transfer?: readonly ArrayBuffer[]): void;
  terminate(): void;
}
interface ImportMeta {
  url: string;
}
declare function queueMicrotask(run: () => void): void;

// URL Standard.
declare class URL {
  constructor(url: string, base?: string);
}

// DOM Standard, Aborting ongoing activities.
interface AbortSignal {
  readonly aborted: boolean;
  readonly reason: unknown;
  throwIfAborted(): void;
  addEventListener(type: "abort", listener: () => void, options?: { readonly once: boolean }): void;
  removeEventListener(type: "abort", listener: () => void): void;
}
declare class AbortController {
  readonly signal: AbortSignal;
  abort(): void;
}

// Encoding Standard.
declare class TextDecoder {
  constructor(encoding?: string, options?: { readonly fatal?: boolean });
  decode(bytes?: Uint8Array): string;
}
declare class TextEncoder {
  encode(text: string): Uint8Array<ArrayBuffer>;
}

// File API: files are passed on to whoever reads them.
interface Blob {
  readonly size: number;
  slice(start: number, end?: number): Blob;
  arrayBuffer(): Promise<ArrayBuffer>;
}
interface File extends Blob {
  readonly name: string;
}
/** A file of the maker's disk; held as it is. */
interface FileSystemFileHandle {
  readonly kind: "file";
  readonly name: string;
}

// Storage Standard.
interface StorageManager {
  persist(): Promise<boolean>;
  persisted(): Promise<boolean>;
}
