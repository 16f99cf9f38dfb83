// Heat held by fired ware and kiln furniture, from the enthalpies of the oxides they are made of.
import { ZERO_CELSIUS_IN_KELVIN } from "./constants";

/** Shomate coefficients of one phase; heat in kJ/mol with t = kelvin / 1000. */
interface ShomatePhase {
  readonly A: number;
  readonly B: number;
  readonly C: number;
  readonly D: number;
  readonly E: number;
  readonly F: number;
  readonly H: number;
}

/** NIST WebBook, quartz C14808607 (Chase 1998), 298–847 K. */
const ALPHA_QUARTZ: ShomatePhase = {
  A: -6.076591,
  B: 251.6755,
  C: -324.7964,
  D: 168.5604,
  E: 0.002548,
  F: -917.6893,
  H: -910.8568,
};
/** NIST WebBook, the same record, 847–1996 K. */
const BETA_QUARTZ: ShomatePhase = {
  A: 58.7534,
  B: 10.27925,
  C: -0.131384,
  D: 0.02521,
  E: 0.025601,
  F: -929.3292,
  H: -910.8568,
};
/** NIST C1344281 by way of wallytutor/WallyToolbox.jl thermodata.yaml, 298–2327 K. */
const ALPHA_ALUMINA: ShomatePhase = {
  A: 102.429,
  B: 38.7498,
  C: -15.9109,
  D: 2.628181,
  E: -3.007551,
  F: -1717.93,
  H: -1675.69,
};

const QUARTZ_TURNS_AT_KELVIN = 847;
const QUARTZ_GRAMS_PER_MOL = 60.0843;
const ALUMINA_GRAMS_PER_MOL = 101.9613;

function shomateKjPerMol(phase: ShomatePhase, kelvin: number): number {
  const t = kelvin / 1000;
  const { A, B, C, D, E, F, H } = phase;
  return t * (A + t * (B / 2 + t * (C / 3 + (t * D) / 4))) - E / t + F - H;
}

/** Gives the heat of quartz above 25 °C in kJ/mol at a temperature in kelvin, the turn at 847 K included. */
export function quartzKjPerMol(kelvin: number): number {
  return shomateKjPerMol(kelvin < QUARTZ_TURNS_AT_KELVIN ? ALPHA_QUARTZ : BETA_QUARTZ, kelvin);
}

/** Gives the heat of alumina above 25 °C in kJ/mol at a temperature in kelvin. */
export function aluminaKjPerMol(kelvin: number): number {
  return shomateKjPerMol(ALPHA_ALUMINA, kelvin);
}

/** Gives the heat of quartz above 25 °C in kJ/kg at a temperature in °C. */
export function quartzKjPerKg(celsius: number): number {
  return (quartzKjPerMol(celsius + ZERO_CELSIUS_IN_KELVIN) / QUARTZ_GRAMS_PER_MOL) * 1000;
}

/** Gives the heat of alumina above 25 °C in kJ/kg at a temperature in °C. */
export function aluminaKjPerKg(celsius: number): number {
  return (aluminaKjPerMol(celsius + ZERO_CELSIUS_IN_KELVIN) / ALUMINA_GRAMS_PER_MOL) * 1000;
}

/** What a fired body is made of, by weight; the parts are taken relative to their sum. */
export interface Body {
  readonly silica: number;
  readonly alumina: number;
  /** Fluxes and the rest, taken as the mean of silica and alumina. */
  readonly other: number;
}

/** A silica-alumina body as most stoneware and porcelain is. */
export const STONEWARE_BODY: Body = { silica: 65, alumina: 25, other: 10 };

/** Cordierite shelves and props, 2 MgO·2 Al₂O₃·5 SiO₂. */
export const CORDIERITE_BODY: Body = { silica: 51.4, alumina: 34.8, other: 13.8 };

/** Gives the heat of a fired body above 25 °C in kJ/kg at a temperature in °C, by the mixture rule of Neumann and Kopp. */
export function bodyKjPerKg(body: Body, celsius: number): number {
  const sum = body.silica + body.alumina + body.other;
  const silicaShare = (body.silica + body.other / 2) / sum;
  return silicaShare * quartzKjPerKg(celsius) + (1 - silicaShare) * aluminaKjPerKg(celsius);
}
