import type { ResolvedJob } from '../job';
import { type ShownUnits, formatQuantity } from '../quantity';
import type { Cause } from './causes';
import { strutWords } from './words';

/** What is needed of a ranked cause to say it. */
export interface Sayable extends Pick<Cause, 'kind' | 'strut' | 'mass' | 'both'> {
  readonly values: readonly number[];
  readonly sigmas: readonly number[];
}

/** A cause in plain words. */
export interface CauseWords {
  /** "The lid is about 3.1 kg heavier than entered." */
  readonly text: string;
  /** "± 0.4 kg"; empty for a cause without a number. */
  readonly plusMinus: string;
  /** What a person looks at to make sure. */
  readonly look: string;
}

const capital = (s: string): string => s.charAt(0).toUpperCase() + s.slice(1);

/**
 * Says a cause with the amount that was fitted; massKg is the mass of all items that were on when it was measured, and the ±
 * two standard deviations.
 */
export function causeWords(job: ResolvedJob, c: Sayable, massKg: number, units: ShownUnits): CauseWords {
  if (c.both) {
    const n = c.both[0].widths.length;
    const [first, second] = c.both.map((cause, i) => {
      const own = (all: readonly number[]): readonly number[] => (i === 0 ? all.slice(0, n) : all.slice(n));
      return causeWords(job, { ...cause, values: own(c.values), sigmas: own(c.sigmas) }, massKg, units);
    }) as [CauseWords, CauseWords];
    const of = (key: keyof CauseWords, by: string): string =>
      [first[key], second[key]].filter((t) => t !== '').join(by);
    return { text: `Two things at once: ${of('text', ' ')}`, plusMinus: of('plusMinus', ', '), look: of('look', ' ') };
  }
  const [a = 0, b = 0] = c.values;
  const [sa = 0, sb = 0] = c.sigmas;
  const q = (v: number, dimension: 'mass' | 'force' | 'length' | 'moment', decimals?: number): string =>
    formatQuantity(v, dimension, units, decimals);
  const mm = (v: number): string => q(Math.abs(v), 'length', units.length === 'mm' ? 0 : undefined);
  const strut = c.strut === undefined ? 'the strut' : strutWords(job, c.strut);
  const s = job.struts.find((x) => x.id === c.strut);
  const pair = s?.quantity === 2;
  const each = pair ? ' (both of the pair)' : '';
  switch (c.kind as Exclude<Cause['kind'], 'pair'>) {
    case 'mass':
      return {
        text: `The lid is about ${q(Math.abs(a) * massKg, 'mass', 1)} ${a > 0 ? 'heavier' : 'lighter'} than entered.`,
        plusMinus: `± ${q(2 * sa * massKg, 'mass', 1)}`,
        look: 'Weigh the lid with all that is on it; look for what was added, left off or full of water.',
      };
    case 'mass-item': {
      const name = job.masses.find((m) => m.id === c.mass)?.name ?? c.mass ?? '';
      return {
        text: `${capital(name)} is about ${q(Math.abs(a), 'mass', 1)} ${a > 0 ? 'heavier' : 'lighter'} than entered.`,
        plusMinus: `± ${q(2 * sa, 'mass', 1)}`,
        look: 'Weigh it by itself.',
      };
    }
    case 'centre':
      return {
        text: `The weight sits about ${mm(a)} ${a > 0 ? 'further out from' : 'nearer to'} the hinge than entered.`,
        plusMinus: `± ${mm(2 * sa)}`,
        look: 'Balance the lid over an edge, or measure again where its heavy parts sit.',
      };
    case 'force': {
      const n = (s?.spec.forceN ?? 0) * a;
      return {
        text: `${capital(strut)}${each} pushes about ${q(Math.abs(n), 'force')} ${a > 0 ? 'more' : 'less'} than stated (${Math.round(Math.abs(a) * 100)} %).`,
        plusMinus: `± ${q(2 * sa * (s?.spec.forceN ?? 0), 'force')}`,
        look: 'Read the force printed on it; press it on a bathroom scale, upright, rod down, guided, 5 mm in, slowly; stand beside it.',
      };
    }
    case 'hinge-friction':
      return {
        text: `Hinges or seals rub about ${q(Math.abs(a), 'moment')} ${a > 0 ? 'more' : 'less'} than entered.`,
        plusMinus: `± ${q(2 * sa, 'moment')}`,
        look: 'Take the strut off with the lid propped and feel whether the hinge binds or the seal drags.',
      };
    case 'strut-friction':
      return {
        text: `${capital(strut)}${each} takes about ${q(Math.abs(a), 'force')} ${a > 0 ? 'more' : 'less'} to press in than it gives back, beyond what is entered.`,
        plusMinus: `± ${q(2 * sa, 'force')}`,
        look: 'Look for a bent rod, a joint at the end of its range, paint or dirt on the rod; leave a cold strut to warm up.',
      };
    case 'base-pivot':
    case 'lid-pivot': {
      const end = c.kind === 'base-pivot' ? 'base' : 'lid';
      const out = `${mm(a)} ${a > 0 ? 'further out from the hinge' : 'nearer to the hinge'}`;
      const open = `${mm(b)} ${b > 0 ? 'towards the opening side' : 'towards the closing side'}`;
      const parts = [
        ...(Math.abs(a) >= Math.max(1, sa) ? [out] : []),
        ...(Math.abs(b) >= Math.max(1, sb) ? [open] : []),
      ];
      return {
        text: `The ${end} pivot of ${strut}${each} sits about ${parts.length > 0 ? parts.join(' and ') : `${mm(Math.hypot(a, b))} off`}, against the drawing.`,
        plusMinus: `± ${mm(2 * Math.max(sa, sb))}`,
        look: 'Measure this pivot again from the hinge pin and from a fixed edge, lid closed.',
      };
    }
    case 'extended':
      return {
        text: `${capital(strut)}${each} is about ${mm(a)} ${a > 0 ? 'longer' : 'shorter'} than stated.`,
        plusMinus: `± ${mm(2 * sa)}`,
        look: 'Measure it fully extended, pivot to pivot; look at the end fittings.',
      };
    case 'lost':
      return {
        text: pair
          ? `One of the pair ${s.name ? `(${s.name}) ` : ''}gives no force.`
          : `${capital(strut)} gives no force.`,
        plusMinus: '',
        look: pair
          ? 'Take one off at a time, the lid propped, and press it in by hand: the dead one goes in easily.'
          : 'Take it off, the lid propped, and press it in by hand: a dead one goes in easily.',
      };
  }
}
