/**
 * Common codes of units from UN/CEFACT Recommendation 20, "Codes for Units of Measure Used in International
 * Trade", Annex II, in the table that its maintainers published under a public domain dedication. The names
 * and factors there are held against our own units in `tests/published/unit-codes.test.ts`.
 *
 * A unit is left out where the Recommendation has no code for it, only a withdrawn one, or only one for something
 * less: gauge and absolute pressure have none of their own, and a code that drops the difference says too little.
 */

/** Code by the symbol of the unit, a line for each group of the unit table. */
const CODES: ReadonlyMap<string, string> = new Map(
  [
    'mm MMT, m MTR, cm CMT, µm 4H, km KMT, in INH, ft FOT, mil 77, yd YRD, fathom AK, nmi NMI, mi SMI',
    'mm² MMK, m² MTK, cm² CMK, ft² FTK, in² INK, yd² YDK, cmil M47',
    'L LTR, mL MLT, m³ MTQ, cm³ CMQ, cL CLT, dL DLT, mm³ MMQ, US gal GLL, US qt QTL, US pt PTL, US fl oz OZA',
    'US cup G21, imp gal GLI, imp qt QTI, imp pt PTI, imp fl oz OZI, ft³ FTQ, in³ INQ',
    'kg KGM, g GRM, t TNE, mg MGM, lb LBR, oz ONZ, grain GRN, stone STI, long ton LTN, short ton STN',
    'N NEW, kN B47, lbf C78, ozf L40',
    'N·m NU, N·cm F88, kN·m B48, lbf·ft M92, lbf·in F21, ozf·in L41',
    'Wh WHR, kWh KWH, J JOU, kJ KJO, MJ 3B, MWh MWH, ft·lbf 85, BTU BTU',
    'W WTT, kW KWT, mW C31, MW MAW, hp BHP, BTU/h 2I, ft·lbf/s A74, VA D46, kVA KVA, var D44, kvar KVR',
    'V VLT, mV 2Z, kV KVT, µV D82, A AMP, mA 4K, µA B84, kA B22',
    'Ω OHM, mΩ E45, µΩ B94, kΩ B49, MΩ B75, GΩ A87, S SIE, mS C27, µS B99',
    'Ah AMH, mAh E09, kAh TAH, C COU, µF 4O, F FAR, mF C10, nF C41, pF 4T, mH C14, µH B90, H 81',
    'Ω·m C61, µS/cm G42, mS/cm H61, S/m D10, Ω/km F56, mΩ/m F54, Ω/m H26',
    'Hz HTZ, kHz KHZ, MHz MHZ, GHz A86, rpm RPM, r/s RPS, rad/s 2A',
    'kn KNT, m/s MTS, km/h KMH, mph HM, ft/s FS, ft/min FR, mm/s C16, m/min 2X, in/s IU',
    'm/s² MSK, ft/s² A73, gn K40, h HUR, min MIN, s SEC, d DAY, ms C26',
    '°C CEL, °F FAH, K KEL',
    'bar BAR, mbar MBR, kPa KPA, hPa A97, Pa PAL, psi PS, kgf/cm² E42, inHg F79',
    'inH2O F78, atm ATM, N/mm² C56, MPa MPA, GPa A89',
    'kg/m³ KMQ, g/cm³ 23, kg/L B35, g/L GL, mg/L M1, lb/ft³ 87, lb/US gal GE',
    'L/min L2, L/h E32, m³/h MQH, L/s G51, mL/min 41, m³/s MQS, US gal/min G2, US gal/h G50, imp gal/min G3, imp gal/h K27',
    'ft³/min 2L, kg/h E93, kg/s KGS, g/h F27, lb/h 4U',
    'mPa·s C24, cP C7, Pa·s C65, cSt 4C, mm²/s C17',
    '1 C62, % P1, ‰ NX, ppm 59, pcs H87, pH Q30, ° DD, ′ D61, ″ D62, rad C81, mrad C25',
    'cd CDL, lm LUM, lx LUX, fc P27, W/m² D54',
    'g/m² GM, kg/m² 28, oz/yd² ON, lb/ft² FP, kg/m KL, g/m GF, lb/ft P2',
    'm²/L E31, N/mm F47, N/m 4P, lbf/in F48',
  ]
    .flatMap((line) => line.split(', '))
    .map((pair) => [pair.slice(0, pair.lastIndexOf(' ')), pair.slice(pair.lastIndexOf(' ') + 1)] as const),
);

/** The Common Code of a unit by its symbol as printed; null where there is none. */
export function commonCode(symbol: string): string | null {
  return CODES.get(symbol) ?? null;
}
