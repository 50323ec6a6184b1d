declare const brand: unique symbol;
/** An angle in radians: core computes in these. */
export type Rad = number & { readonly [brand]: 'rad' };
/** An angle in degrees: files, screens and papers hold these. */
export type Deg = number & { readonly [brand]: 'deg' };

/** Degrees to radians; with `toDeg` the only door between the two. @example toRad(180 as Deg) // 3.141592653589793 */
export const toRad = (angleDeg: number): Rad => ((angleDeg * Math.PI) / 180) as Rad;

/** Radians to degrees. @example toDeg(Math.PI) // 180 */
export const toDeg = (angleRad: number): Deg => ((angleRad * 180) / Math.PI) as Deg;
