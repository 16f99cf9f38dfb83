// Every function of ours, in the order in which help and README list them.
import type { ImplicitArguments } from "../link";
import { ROUTE_FUNCTIONS } from "./along-route";
import { COAT_FUNCTIONS } from "./coats";
import type { FunctionDeclaration } from "./declare";
import { KILN_FUNCTIONS } from "./kilns";
import { LOSS_FUNCTIONS } from "./losses";
import { METAL_FUNCTIONS } from "./metals";
import { MONEY_FUNCTIONS } from "./moneys";
import { ROOM_FUNCTIONS } from "./rooms";
import { SHAPE_FUNCTIONS } from "./shapes";
import { TABLE_FUNCTIONS } from "./tables";

export const FUNCTIONS: readonly FunctionDeclaration[] = [
  ...KILN_FUNCTIONS,
  ...ROOM_FUNCTIONS,
  ...METAL_FUNCTIONS,
  ...COAT_FUNCTIONS,
  ...SHAPE_FUNCTIONS,
  ...LOSS_FUNCTIONS,
  ...ROUTE_FUNCTIONS,
  ...MONEY_FUNCTIONS,
  ...TABLE_FUNCTIONS,
];

const byName = new Map(FUNCTIONS.map((declaration) => [declaration.name, declaration]));

/** The declaration of a function of ours, if the name is one. */
export function functionNamed(name: string): FunctionDeclaration | undefined {
  return byName.get(name.toUpperCase());
}

/** Whole columns that a function reads besides what is typed. */
export const implicitArguments: ImplicitArguments = (name) => byName.get(name)?.reads;
