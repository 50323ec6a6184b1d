import { type Vec3, add, dot, scale, sub } from '../space';
import type { LoadCase, ResolvedJob } from './types';

/** This cold or colder is cold, this warm or warmer is hot, °C. Common practice, no source. */
export const COLD_C = 5;
export const HOT_C = 35;

type Thing = { readonly id: string; readonly name?: string | undefined };

const round = (v: number, decimals: number): string => `${Number(Math.abs(v).toFixed(decimals))}`;
const celsius = (c: number): string => `${c < 0 && round(c, 1) !== '0' ? '−' : ''}${round(c, 1)} °C`;
const nameOf = (things: readonly Thing[], id: string): string => things.find((t) => t.id === id)?.name ?? id;

/** Names in words: three of them at most, more are counted. */
function named(things: readonly Thing[], ids: readonly string[], many: string): string {
  const names = ids.map((id) => nameOf(things, id));
  if (names.length > 3) return `${names.length} ${many}`;
  return names.length > 1 ? `${names.slice(0, -1).join(', ')} and ${names.at(-1)}` : (names[0] ?? '');
}

/** The parts of a job that a load case's name is made from. */
export type NamingJob = Pick<ResolvedJob, 'masses' | 'struts' | 'points' | 'hinge' | 'grip'>;

/** Which side of the lid a level direction of the base is, for a person who stands at the grip and looks at the hinge. */
function sideOf(down: Vec3, { points, hinge, grip }: NamingJob): string {
  const at = (id: string): Vec3 => points.find((p) => p.id === id)?.at ?? [0, 0, 0];
  const away = sub(scale(add(at(hinge.a), at(hinge.b)), 0.5), at(grip));
  const [back, right] = [dot(down, [away[0], away[1], 0]), dot(down, [away[1], -away[0], 0])];
  return Math.abs(back) >= Math.abs(right) ? (back < 0 ? 'front' : 'back') : right > 0 ? 'right side' : 'left side';
}

/**
 * What a load case is called where its file names it not: after its values, so that the name can't lie. Sides are
 * seen from the grip; what a vehicle does is told by its X, forward.
 */
export function caseName(c: Omit<LoadCase, 'name' | 'id'>, job: NamingJob): string {
  const { masses, struts } = job;
  const said: string[] = [];
  const say = (is: boolean, words: string): void => void (is && said.push(words));
  say(c.off.length > 0, `${named(masses, c.off, 'masses')} off`);
  say(c.lost.length > 0, struts.length > 1 ? `one of ${named(struts, c.lost, 'struts')} lost` : 'one strut lost');
  // pitched by a positive angle +X goes down, rolled by one −Y
  for (const [deg, down] of [
    [c.pitchDeg, [1, 0, 0]],
    [c.rollDeg, [0, -1, 0]],
  ] as const)
    say(deg !== 0, `${sideOf(scale(down, Math.sign(deg)), job)} down ${round(deg, 1)}°`);
  const [x, y, z] = c.accelG;
  if (c.pitchDeg !== 0 || c.rollDeg !== 0) say(Math.hypot(x, y, z) > 0, `swaying ${round(Math.hypot(x, y, z), 2)} g`);
  else {
    say(x !== 0, `${x < 0 ? 'braking' : 'speeding up'} ${round(x, 2)} g`);
    say(y !== 0, `turning ${y > 0 ? 'left' : 'right'} ${round(y, 2)} g`);
    say(z !== 0, `${z > 0 ? 'up' : 'down'} ${round(z, 2)} g`);
  }
  if (c.wind) {
    const { towards, ms } = c.wind;
    const way = towards === 'open' ? ' that opens it' : towards === 'shut' ? ' that shuts it' : '';
    said.push(`wind ${round(ms, 1)} m/s${way}`);
  }
  say(c.force !== 'nominal', `${c.force === 'low' ? 'weak' : 'strong'} strut`);
  say(c.ageLossPercent > 0, `${round(c.ageLossPercent, 1)} % lost with age`);
  const heat = celsius(c.tempC);
  const all =
    c.tempC <= COLD_C
      ? [`cold, ${heat}`, ...said]
      : c.tempC >= HOT_C
        ? [`hot, ${heat}`, ...said]
        : [...(said.length > 0 ? said : ['as used']), heat];
  const name = all.join(', ');
  return name.charAt(0).toUpperCase() + name.slice(1);
}
