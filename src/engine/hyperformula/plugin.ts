// Puts the declared functions into the engine: one plug-in made from the tables.
import {
  CellError,
  ErrorType,
  FunctionArgumentType,
  FunctionPlugin,
  HyperFormula,
  type ImplementedFunctions,
  SimpleRangeValue,
} from "hyperformula";
import { checkArguments } from "../functions/arguments";
import type { Argument, FunctionDeclaration } from "../functions/declare";
import { FUNCTIONS } from "../functions/index";
import { outcomeOf } from "../functions/run";
import { SET_ASIDE, TOOK_TOO_LONG } from "../set-aside";
import type { PlainCall } from "./compiled-node";
import { countBy, firingShare, pick, sizesBy, totalBy } from "./hashed-tables";
import type { DependencyGraph } from "./library";

// The engine does not export the types of a function's arguments; they are read off its own method.
abstract class Probe extends FunctionPlugin {
  declare readonly parametersOfRun: Parameters<Probe["runFunction"]>;
}
type Arguments = Probe["parametersOfRun"][0];
type State = Probe["parametersOfRun"][1];
type Returned = ReturnType<Probe["parametersOfRun"][3]>;
interface Call {
  readonly args: Arguments;
}

const methodOf = (declaration: FunctionDeclaration) => `run_${declaration.name.toLowerCase()}`;

function parametersOf(declaration: FunctionDeclaration) {
  const typed = declaration.parameters.map((parameter) => ({
    argumentType: parameter.type === "range" ? FunctionArgumentType.RANGE : FunctionArgumentType.NOERROR,
    ...(parameter.default === undefined ? {} : { optionalArg: true }),
  }));
  const read = (declaration.reads ?? []).map(() => ({ argumentType: FunctionArgumentType.RANGE }));
  return [...read, ...typed];
}

class SaggarFunctions extends FunctionPlugin {
  static override implementedFunctions: ImplementedFunctions = {
    [SET_ASIDE]: { method: "setAside", parameters: [] },
    ...Object.fromEntries(
      FUNCTIONS.map((declaration) => [
        declaration.name,
        // A range may be given as a single cell or an inline list too; arrays never spill out of these functions.
        { method: methodOf(declaration), parameters: parametersOf(declaration), vectorizationForbidden: true },
      ]),
    ),
  };

  setAside(): CellError {
    return toError(TOOK_TOO_LONG);
  }

  evaluate(declaration: FunctionDeclaration, call: Call, state: State): unknown {
    const graph = this.dependencyGraph as unknown as DependencyGraph;
    return this.runFunction(
      call.args,
      state,
      this.metadata(declaration.name),
      (...given: unknown[]) => answer(declaration, graph, given) as Returned,
    );
  }
}

for (const declaration of FUNCTIONS)
  Object.defineProperty(SaggarFunctions.prototype, methodOf(declaration), {
    value(this: SaggarFunctions, call: Call, state: State) {
      return this.evaluate(declaration, call, state);
    },
  });

/** The same functions for calls whose arguments the engine need not change. */
export const PLAIN_CALLS: ReadonlyMap<string, PlainCall> = new Map(
  FUNCTIONS.map((declaration) => [declaration.name, plainCall(declaration)]),
);

function plainCall(declaration: FunctionDeclaration): PlainCall {
  const read = declaration.reads?.length ?? 0;
  return {
    ranges: [...new Array(read).fill(true), ...declaration.parameters.map(({ type }) => type === "range")],
    needed: read + declaration.parameters.filter((parameter) => parameter.default === undefined).length,
    asksOnlyWhere: declaration.run === undefined,
    run: (graph, given) => lookUp(declaration.name, graph, given, given.at(-1)) ?? answer(declaration, graph, given),
  };
}

function answer(declaration: FunctionDeclaration, graph: DependencyGraph, given: readonly unknown[]): unknown {
  const readCount = declaration.reads?.length ?? 0;
  const typed = given.slice(readCount);
  const plain: Argument[] = [];
  for (const [at, value] of typed.entries()) {
    if (declaration.run === undefined && value instanceof SimpleRangeValue) {
      plain.push([]);
      continue;
    }
    const argument = declaration.parameters[at]?.type === "range" ? toList(value) : toArgument(value);
    if (argument instanceof CellError) return argument;
    plain.push(argument);
  }
  const checked = checkArguments(declaration, plain);
  if (!checked.ok) return toError(checked.problems[0]?.message);
  if (declaration.run === undefined)
    return (
      lookUp(declaration.name, graph, given, checked.value.at(-1)) ??
      toError(`${declaration.name}: it takes ${TAKES[declaration.name]}.`)
    );
  return runDeclared(declaration, checked.value, given.slice(0, readCount));
}

function runDeclared(
  declaration: FunctionDeclaration,
  checked: readonly Argument[],
  read: readonly unknown[],
): unknown {
  const columns: Argument[] = [];
  for (const value of read) {
    const column = toList(value);
    if (column instanceof CellError) return column;
    columns.push(column);
  }
  const outcome = outcomeOf(declaration, checked, columns);
  return outcome.ok ? outcome.value : toError(outcome.message);
}

/** What look-ups take, in words. */
const TAKES: Readonly<Record<string, string>> = {
  PICK: "a name and two columns",
  TOTAL_BY: "a name and two columns",
  COUNT_BY: "a name and a column",
  SIZES_BY: "a name and three columns",
  FIRING_SHARE: "a firing and a weight",
};

/** The result of a look-up; nothing where what is given is not what it takes. `weight` is the last thing typed, checked. */
function lookUp(name: string, graph: DependencyGraph, given: readonly unknown[], weight: unknown): unknown {
  const [first, second, third, fourth] = given;
  const isRange = (value: unknown) => value instanceof SimpleRangeValue;
  switch (name) {
    case "PICK":
      return isRange(second) && isRange(third) ? pick(graph, name, first, second, third) : undefined;
    case "TOTAL_BY":
      return isRange(second) && isRange(third) ? totalBy(graph, first, second, third) : undefined;
    case "COUNT_BY":
      return isRange(second) ? countBy(graph, first, second) : undefined;
    case "SIZES_BY":
      return isRange(second) && isRange(third) && isRange(fourth)
        ? sizesBy(graph, first, second, third, fourth)
        : undefined;
    case "FIRING_SHARE":
      return isRange(first) && isRange(second) && isRange(third) && typeof weight === "number" && weight >= 0
        ? firingShare(graph, fourth, weight, first, second, third)
        : undefined;
    default:
      return undefined;
  }
}

function toError(message = "no result"): CellError {
  return new CellError(ErrorType.VALUE, message);
}

/** What is given for a range, where a single value is a list of one. */
function toList(value: unknown): Argument | CellError {
  if (value instanceof SimpleRangeValue || value instanceof CellError) return toArgument(value);
  return [toScalar(value)];
}

function toArgument(value: unknown): Argument | CellError {
  if (value instanceof SimpleRangeValue) {
    const list: (number | string | boolean | null)[] = [];
    for (const item of value.valuesFromTopLeftCorner()) {
      if (item instanceof CellError) return item;
      list.push(toScalar(item));
    }
    return list;
  }
  return value instanceof CellError ? value : toScalar(value);
}

function toScalar(value: unknown): number | string | boolean | null {
  if (typeof value === "number" || typeof value === "string" || typeof value === "boolean") return value;
  if (typeof value === "object" && value !== null && "val" in value && typeof value.val === "number") return value.val;
  return null;
}

let registered = false;

/** Registers the functions with the engine, once. */
export function registerFunctions(): void {
  if (registered) return;
  registered = true;
  const names = Object.fromEntries([SET_ASIDE, ...FUNCTIONS.map(({ name }) => name)].map((name) => [name, name]));
  HyperFormula.registerFunctionPlugin(SaggarFunctions, { enGB: names });
}

/** Whether engines built from now on have a function. */
export function isKnownFunction(name: string): boolean {
  return (
    HyperFormula.getFunctionPlugin(name.toUpperCase()) !== undefined || UNDER_ITS_OWN_CARE.includes(name.toUpperCase())
  );
}

/** Functions that the library looks after itself and that are no plug-in's. */
const UNDER_ITS_OWN_CARE = ["VERSION", "OFFSET"];
