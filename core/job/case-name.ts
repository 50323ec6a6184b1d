import type { LoadCase } from './types';

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

/**
 * What a load case is called where its file names it not: after its values, so that the name can't lie. `masses` and `struts`
 * lend the names of what is off or lost.
 */
export function caseName(
  c: Omit<LoadCase, 'name' | 'id'>,
  { masses, struts }: { readonly masses: readonly Thing[]; readonly struts: readonly Thing[] },
): string {
  const said: string[] = [];
  const say = (is: boolean, words: string): void => void (is && said.push(words));
  say(c.off.length > 0, `${named(masses, c.off, 'masses')} off`);
  say(c.lost.length > 0, struts.length > 1 ? `one of ${named(struts, c.lost, 'struts')} lost` : 'one strut lost');
  say(c.pitchDeg !== 0, `nose ${c.pitchDeg > 0 ? 'down' : 'up'} ${round(c.pitchDeg, 1)}°`);
  say(c.rollDeg !== 0, `left side ${c.rollDeg > 0 ? 'up' : 'down'} ${round(c.rollDeg, 1)}°`);
  const [x, y, z] = c.accelG;
  say(x !== 0, `${x < 0 ? 'braking' : 'speeding up'} ${round(x, 2)} g`);
  say(y !== 0, `${round(y, 2)} g to the ${y > 0 ? 'left' : 'right'}`);
  say(z !== 0, `${round(z, 2)} g ${z > 0 ? 'up' : 'down'}`);
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
