import { type Known, doubtsOf } from './doubts';
import { effectsOf, readingSigmas, slopes } from './expect';
import { type PlanItem, itemsFor, planProbes, probeKey } from './plan';
import type { Trial } from './trial';
import { isBalance, makeProber, opensToDeg } from './trial';
import type { Change, Probe, Reading } from './types';

/** A measurement that would tell two explanations apart. */
export interface NextStep {
  readonly item: PlanItem;
  /** What each of the two says it would read, in the item's unit. */
  readonly first: number;
  readonly second: number;
  /** How far these are apart, in standard deviations of such a reading. */
  readonly sigmas: number;
}

/** Closer than this no single further reading decides. */
export const TELLS_FROM = 1.5;

/** Everything that could be measured next: the plan, and the hand at more angles, square and straight up, struts on and off. */
function candidates(trial: Trial): Probe[] {
  const planned = planProbes(trial).map((p) => p.probe);
  const model = planned.find((p) => p.what === 'hand-force')!;
  const open = opensToDeg(trial.plan(model));
  const more = [0.05, 0.2, 0.35, 0.5, 0.65, 0.8, 0.95].flatMap((share) =>
    (['opening', 'closing'] as const).flatMap((way) =>
      [false, true].map((strutsOff): Probe => ({ ...model, way, strutsOff, angleDeg: Math.round(share * open) })),
    ),
  );
  return [...planned, ...more];
}

/**
 * The measurement not taken yet for which two explanations differ most, in σ of that reading (its tool and the everyday
 * doubts together); null where none tells them apart by TELLS_FROM.
 */
export function tellApart(
  trial: Trial,
  taken: readonly Reading[],
  [first, second]: readonly [Change, Change],
  known: Known = {},
): NextStep | null {
  const keys = new Set(taken.map(probeKey));
  const seen = new Set<string>();
  const probes = candidates(trial).filter((p) => {
    const key = probeKey(p);
    if (keys.has(key) || seen.has(key) || isBalance(p)) return false;
    seen.add(key);
    return true;
  });
  if (probes.length === 0) return null;
  const prober = makeProber(trial, probes);
  const items = itemsFor(
    trial,
    probes.map((probe) => ({ probe, optional: false })),
    known,
  );
  const doubts = effectsOf((change) => prober.read(change), doubtsOf(trial, known), probes.length);
  const tool = readingSigmas(
    probes.map((p, i) => ({ ...p, sigma: items[i]!.sigma })),
    slopes(trial, probes),
  );
  const a = prober.read(first);
  const b = prober.read(second);
  let best: NextStep | null = null;
  probes.forEach((_, i) => {
    const sigmas = Math.abs(a[i]! - b[i]!) / Math.hypot(tool[i]!, ...doubts[i]!);
    if (sigmas > (best?.sigmas ?? TELLS_FROM)) best = { item: items[i]!, first: a[i]!, second: b[i]!, sigmas };
  });
  return best;
}
