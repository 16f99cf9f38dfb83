// Physical constants and conversions that several parts of the kiln share.

/** The Stefan-Boltzmann constant in W/m²K⁴ (CODATA 2018). */
export const STEFAN_BOLTZMANN = 5.670374419e-8;

/** 0 °C in kelvin. */
export const ZERO_CELSIUS_IN_KELVIN = 273.15;

/** One kilowatt-hour in joules. */
export const JOULES_PER_KWH = 3.6e6;

/** The hottest temperature any table here reaches, °C; every target lies below it. */
export const HOTTEST_C = 1800;
