// Currencies and their decimal digits; amounts in them are in money.ts, which the first view does without.
import { fail, ok, problem, type Result } from "./problem";

// ISO 4217, list one (2024-06-25, with XAD and XCG of 2025). ANG, BGN, CUC and HRK have been withdrawn; older books hold them.
const CODES_BY_DIGITS: readonly (readonly [number, string])[] = [
  [0, "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF"],
  [
    2,
    `AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE CHF CHW
    CNY COP COU CRC CUC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HRK HTG HUF
    IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV
    MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP
    STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XAD XCD XCG YER ZAR ZMW ZWG`,
  ],
  [3, "BHD IQD JOD KWD LYD OMR TND"],
  [4, "CLF UYW"],
];
const DIGITS_OF = new Map(
  CODES_BY_DIGITS.flatMap(([digits, codes]) => codes.split(/\s+/).map((code) => [code, digits] as const)),
);

/** How many decimal digits a currency has, by ISO 4217; the browser's own list differs for HUF, IQD and others. */
export function currencyDigits(code: string): Result<number> {
  const digits = DIGITS_OF.get(code);
  if (digits !== undefined) return ok(digits);
  return fail(
    problem({
      code: "money.currency",
      where: "The currency",
      found: code,
      allowed: "an ISO 4217 code in capitals that has coins, such as EUR, USD, JPY or KWD",
    }),
  );
}
