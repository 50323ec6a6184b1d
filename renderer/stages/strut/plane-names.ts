import { type Box, meet } from '../../views/sheet/name-places';

/** A name in the plane of lengths and forces: what it says and where its middle may stand, px, the best place first. */
export interface PlaneName {
  readonly text: string;
  readonly className: string;
  /** Reads upwards. */
  readonly turned?: boolean;
  /** It is there whatever it covers. */
  readonly must?: boolean;
  readonly places: readonly (readonly [x: number, y: number])[];
}

/** Width of a letter and height of a line, px: a little more than they take. */
const LETTER = 6.8;
const LINE = 16;
/** How far a name's middle stands from a mark that it lies beside, px. */
const OFF = 11;

const halfOf = (text: string): number => (text.length * LETTER) / 2;

/** Beside a mark: right, left, over or under it. */
export function beside(x: number, y: number, text: string, leftFirst = false): PlaneName['places'] {
  const across = OFF + halfOf(text);
  const [right, left] = [[x + across, y] as const, [x - across, y] as const];
  return [...(leftFirst ? [left, right] : [right, left]), [x, y - 18], [x, y + 18]];
}

/** Shares of a line at which a name is tried, from the middle outwards. */
export const ALONG = [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9] as const;

/** Each name at its first place inside the frame that is off every name before it; without one it is left out, if it may be. */
export function placedNames(
  names: readonly PlaneName[],
  frame: Box,
): readonly (PlaneName & { readonly at: readonly [number, number] })[] {
  const taken: Box[] = [];
  const inside = (b: Box): boolean =>
    b.left >= frame.left && b.right <= frame.right && b.top >= frame.top && b.bottom <= frame.bottom;
  return names.flatMap((name) => {
    const [w, h] = name.turned ? [LINE / 2, halfOf(name.text)] : [halfOf(name.text), LINE / 2];
    const boxAt = ([x, y]: readonly [number, number]): Box => ({
      left: x - w,
      right: x + w,
      top: y - h,
      bottom: y + h,
    });
    const clear = (at: readonly [number, number]): boolean => !taken.some((b) => meet(b, boxAt(at)));
    const within = name.places.filter((at) => inside(boxAt(at)));
    const at = within.find(clear) ?? (name.must ? (within[0] ?? name.places[0]) : undefined);
    if (!at) return [];
    taken.push(boxAt(at));
    return [{ ...name, at }];
  });
}
