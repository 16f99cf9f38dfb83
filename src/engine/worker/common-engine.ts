// The engine with the functions that most formulas call; `src/build/common-functions.ts` leaves the others out of this file.
import { serveEngine } from "./serve";
import wholeEngine from "./whole-engine.ts?worker&url";

serveEngine(() => import(/* @vite-ignore */ wholeEngine));
