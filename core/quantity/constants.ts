// Conversions that are exact by definition; no other file holds them (tests/core/quantity/constants.test.ts).

/** g, m/s² (3rd CGPM, 1901; ISO 80000-3). */
export const STANDARD_GRAVITY = 9.80665;
/** International yard and pound agreement, 1959. */
export const MM_PER_INCH = 25.4;
export const MM_PER_FOOT = 304.8;
/** International avoirdupois pound, kg (the same agreement). */
export const KG_PER_POUND = 0.45359237;

/** mm of one unit. */
export const MM_OF = { mm: 1, cm: 10, in: MM_PER_INCH } as const;
/** N of one unit: kgf and lbf are the weight of 1 kg and 1 lb at standard gravity. */
export const NEWTONS_OF = { N: 1, kgf: STANDARD_GRAVITY, lbf: 4.4482216152605 } as const;
