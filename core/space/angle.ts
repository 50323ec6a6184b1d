declare const unit: unique symbol;
type In<Unit extends string> = number & { readonly [unit]: Unit };
/** An angle in radians: core computes in these. A sum or share of angles is a plain number until `rad` says what it is. */
export type Rad = In<'rad'>;
/** An angle in degrees: files, screens and papers hold these. */
export type Deg = In<'deg'>;
/** A plain number or an angle in degrees, but none in radians. */
type Degrees = number & { readonly [unit]?: 'deg' };

/** A number that is in radians. @example rad(Math.PI) // 3.141592653589793 */
export const rad = (angleRad: number & { readonly [unit]?: 'rad' }): Rad => angleRad as Rad;

/** Degrees to radians; with `toDeg` the only door between the two. @example toRad(180) // 3.141592653589793 */
export const toRad = (angleDeg: Degrees): Rad => ((angleDeg * Math.PI) / 180) as Rad;

/** Radians to degrees. @example toDeg(rad(Math.PI)) // 180 */
export const toDeg = (angleRad: Rad): Deg => ((angleRad * 180) / Math.PI) as Deg;

/** Sine. @example sin(toRad(0)) // 0 */
export const sin = (angle: Rad): number => Math.sin(angle);
/** Cosine. @example cos(toRad(0)) // 1 */
export const cos = (angle: Rad): number => Math.cos(angle);
/** Tangent. @example tan(toRad(0)) // 0 */
export const tan = (angle: Rad): number => Math.tan(angle);

/** Angle of a sine, −π/2 … π/2; NaN outside −1 … 1. @example asin(0) // 0 */
export const asin = (sine: number): Rad => Math.asin(sine) as Rad;
/** Angle of a cosine, 0 … π; NaN outside −1 … 1. @example acos(1) // 0 */
export const acos = (cosine: number): Rad => Math.acos(cosine) as Rad;
/** Angle of the direction (x, y), −π … π. @example atan2(0, 1) // 0 */
export const atan2 = (y: number, x: number): Rad => Math.atan2(y, x) as Rad;
