/** Numbers in [0, 1), the same for the same seed. */
export type Draw = () => number;

/** A small generator of 32 bits of state ("mulberry32"): repeatable, and even enough to scatter places. */
export function seeded(seed: number): Draw {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t = (t + Math.imul(t ^ (t >>> 7), t | 61)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** A standard normal number (Box and Muller's second form, Marsaglia). */
export function gaussian(draw: Draw): number {
  for (;;) {
    const u = 2 * draw() - 1;
    const v = 2 * draw() - 1;
    const s = u * u + v * v;
    if (s > 0 && s < 1) return u * Math.sqrt((-2 * Math.log(s)) / s);
  }
}
