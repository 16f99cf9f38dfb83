// The connection to the browser's database: opened once, given up when a newer version asks for it, opened anew when the browser drops it.
import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import { fail, ok, type Problem, type Result } from "../core/problem";
import { errorName, problemOfError, storageProblem } from "./storage-problems";

/**
 * The newest shape of the database. To change it, add one and a line in `upgrade`; what is stored stays. Since 3 records say
 * their format: programs from before that do not look, and are shut out.
 */
const DATABASE_VERSION = 4;

/** How long a browser may take to open the database; some never answer. */
const OPEN_WAIT_MS = 8000;
/** How long another tab may take to finish its writes and let go. */
const BLOCKED_WAIT_MS = 1500;

export interface DatabaseShape extends DBSchema {
  summaries: { key: string; value: unknown };
  documents: { key: string; value: unknown };
  preferences: { key: string; value: unknown };
  /** Since 2: earlier states of editions, under `copyKey`. */
  notes: { key: string; value: unknown };
  copies: { key: string; value: unknown };
  /** Since 4: what was done in editions, step by step. */
  steps: { key: string; value: unknown };
}

export type Database = IDBPDatabase<DatabaseShape>;

export interface DatabaseOptions {
  /** Called once when the connection was given up for good. */
  readonly onClosed?: (problem: Problem) => void;
  /** Called when the browser dropped the connection or the database was deleted: what was stored may be gone. */
  readonly onDropped?: () => void;
  readonly version?: number;
  readonly openWaitMs?: number;
  readonly blockedWaitMs?: number;
}

/** Opens the database of that name and reads from it: some browsers open one that then never answers. */
export async function openConnection(name: string, options: DatabaseOptions = {}): Promise<Result<Connection>> {
  const connection = new Connection(name, options);
  const opened = await connection.run((database) => answersIn(database, options.openWaitMs ?? OPEN_WAIT_MS));
  if (!opened.ok) connection.close();
  return opened.ok ? ok(connection) : opened;
}

function answersIn(database: Database, waitMs: number): Promise<Result<undefined>> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => resolve(fail(storageProblem("silent"))), waitMs);
    database.count("preferences").then(
      () => {
        clearTimeout(timer);
        resolve(ok(undefined));
      },
      (error: unknown) => {
        clearTimeout(timer);
        reject(error);
      },
    );
  });
}

/** A connection that lasts until `close`, or until a newer version of the page takes over. */
export class Connection {
  readonly #name: string;
  readonly #options: DatabaseOptions;
  #opening: Promise<Result<Database>> | undefined;
  #ended: Problem | undefined;

  constructor(name: string, options: DatabaseOptions) {
    this.#name = name;
    this.#options = options;
  }

  /** Does `work` with the database. Whatever the browser throws becomes a problem. */
  async run<T>(work: (database: Database) => Promise<Result<T>>): Promise<Result<T>> {
    try {
      return await this.#attempt(work);
    } catch (error) {
      // A browser may drop a connection without a word; the first use then fails before anything is done.
      if (errorName(error) !== "InvalidStateError" || this.#ended) return fail(this.#ended ?? problemOfError(error));
    }
    this.#letGo();
    try {
      return await this.#attempt(work);
    } catch (error) {
      return fail(this.#ended ?? problemOfError(error));
    }
  }

  /** Closes the connection; what is under way is finished first. */
  close(): void {
    this.#end(storageProblem("failed", "it was closed"));
  }

  async #attempt<T>(work: (database: Database) => Promise<Result<T>>): Promise<Result<T>> {
    if (this.#ended) return fail(this.#ended);
    this.#opening ??= this.#open();
    const database = await this.#opening;
    if (!database.ok) {
      this.#opening = undefined;
      return database;
    }
    return this.#ended ? fail(this.#ended) : work(database.value);
  }

  #open(): Promise<Result<Database>> {
    return openDatabase(this.#name, this.#options, {
      givenUp: () => this.#giveUp(storageProblem("closed")),
      dropped: () => {
        this.#opening = undefined;
        if (!this.#ended) this.#options.onDropped?.();
      },
    });
  }

  #letGo(): void {
    this.#opening?.then((opened) => {
      if (opened.ok) opened.value.close();
    });
    this.#opening = undefined;
  }

  #giveUp(problem: Problem): void {
    if (this.#ended) return;
    this.#end(problem);
    this.#options.onClosed?.(problem);
  }

  #end(problem: Problem): void {
    if (this.#ended) return;
    this.#ended = problem;
    this.#letGo();
  }
}

interface DatabaseEvents {
  readonly givenUp: () => void;
  readonly dropped: () => void;
}

function openDatabase(name: string, options: DatabaseOptions, events: DatabaseEvents): Promise<Result<Database>> {
  const { version = DATABASE_VERSION, openWaitMs = OPEN_WAIT_MS, blockedWaitMs = BLOCKED_WAIT_MS } = options;
  return new Promise((resolve) => {
    let isWaiting = true;
    const settle = (result: Result<Database>) => {
      isWaiting = false;
      clearTimeout(timer);
      resolve(result);
    };
    const giveUp = (failure: "silent" | "blocked") => settle(fail(storageProblem(failure)));
    let timer = setTimeout(giveUp, openWaitMs, "silent");
    const onBlocked = () => {
      if (!isWaiting) return;
      clearTimeout(timer);
      timer = setTimeout(giveUp, blockedWaitMs, "blocked");
    };
    const onBlocking = (event: IDBVersionChangeEvent) => {
      // Closing at once lets the newer version in; staying open would make that tab hang.
      (event.target as IDBDatabase).close();
      // Without a new version it is being deleted, as when the browser's data is cleared.
      if (event.newVersion === null) events.dropped();
      else events.givenUp();
    };
    requestDatabase(name, version, { onBlocked, onBlocking, onDropped: events.dropped }).then(
      // An answer that comes after we gave up must not keep a connection open that nobody closes.
      (opened) => {
        if (isWaiting) settle(opened);
        else if (opened.ok) opened.value.close();
      },
      (error: unknown) => settle(fail(problemOfError(error))),
    );
  });
}

interface RequestEvents {
  readonly onBlocked: () => void;
  readonly onBlocking: (event: IDBVersionChangeEvent) => void;
  readonly onDropped: () => void;
}

// Async, because a browser with storage switched off throws at the mere mention of `indexedDB`.
async function requestDatabase(name: string, version: number, events: RequestEvents): Promise<Result<Database>> {
  const factory: IDBFactory | null | undefined = globalThis.indexedDB;
  if (!factory) return fail(storageProblem("absent"));
  const database = await openDB<DatabaseShape>(name, version, {
    upgrade,
    blocked: events.onBlocked,
    blocking: (_current, _wanted, event) => events.onBlocking(event),
    terminated: events.onDropped,
  });
  return ok(database);
}

function upgrade(database: Database, oldVersion: number): void {
  if (oldVersion < 1) {
    database.createObjectStore("summaries");
    database.createObjectStore("documents");
    database.createObjectStore("preferences");
  }
  if (oldVersion < 2) {
    database.createObjectStore("notes");
    database.createObjectStore("copies");
  }
  if (oldVersion < 4) database.createObjectStore("steps");
}
