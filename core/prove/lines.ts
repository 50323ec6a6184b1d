import { type JobProofReading, PROOF_UNIT, type ProofReading, type ResolvedJob } from '../job';
import { type PlanItem, probeKey } from './plan';
import { probeOf, proofCondition } from './read-job';
import type { Probe } from './types';
import { probeWords, unitSign } from './words';

/** One line of the table: something to measure, with the reading of it where there is one. */
export interface Line {
  readonly key: string;
  readonly probe: Probe;
  readonly what: string;
  readonly unit: ReturnType<typeof unitSign>;
  /** The plan's prediction; a line that is not in the plan gets its own from the comparison. */
  readonly item: PlanItem | null;
  readonly reading: ProofReading | null;
  readonly optional: boolean;
}

/** Headings under which lines stand, in the order a person goes through them. */
export const GROUPS = ['Before the strut goes in', 'Lengths', 'Opening, slowly', 'Closing, slowly', 'Let go'] as const;
export type Group = (typeof GROUPS)[number];

/** The heading under which a reading’s line stands. */
export function groupOf(probe: Probe): Group {
  switch (probe.what) {
    case 'free-length':
    case 'lid-mass':
      return 'Before the strut goes in';
    case 'hand-force':
      return probe.strutsOff
        ? 'Before the strut goes in'
        : probe.way === 'closing'
          ? 'Closing, slowly'
          : 'Opening, slowly';
    case 'strut-length':
    case 'pivot-to-hinge':
    case 'opens-to':
    case 'joint-angle':
      return 'Lengths';
    case 'rests-at':
    case 'falls-from':
    case 'lifts-from':
      return 'Let go';
  }
}

/** Lines of the plan with their readings, and the readings that are in no plan. */
export function linesOf(job: ResolvedJob, plan: readonly PlanItem[]): Line[] {
  const left = new Map((job.proof?.readings ?? []).map((r) => [r.id, r]));
  const taken = new Map<string, ProofReading>();
  for (const r of left.values()) {
    const key = probeKey(probeOf(job, r));
    if (!taken.has(key)) taken.set(key, r);
  }
  const lines = plan.map((item): Line => {
    const reading = taken.get(item.key) ?? null;
    if (reading) left.delete(reading.id);
    return {
      key: item.key,
      probe: item.probe,
      what: item.what,
      unit: item.unit,
      item,
      reading,
      optional: item.optional,
    };
  });
  for (const reading of left.values()) {
    const probe = probeOf(job, reading);
    const what = probeWords(job, probe);
    lines.push({ key: reading.id, probe, what, unit: unitSign(probe.what), item: null, reading, optional: true });
  }
  return lines;
}

/** The keys that a reading of each unit has in the file. */
export const VALUE_KEY = { mm: 'valueMm', N: 'valueN', deg: 'valueDeg', kg: 'valueKg' } as const;
export const SIGMA_KEY = { mm: 'sigmaMm', N: 'sigmaN', deg: 'sigmaDeg', kg: 'sigmaKg' } as const;

/** What a line's reading looks like in the job, with a value. */
export function readingOf(
  job: ResolvedJob,
  probe: Probe,
  value: JobProofReading['valueMm'],
): Omit<JobProofReading, 'id'> {
  const unit = PROOF_UNIT[probe.what];
  const condition = proofCondition(job);
  const strutted = probe.what === 'strut-length' || probe.what === 'joint-angle';
  // readings of a kind are taken with one tool: a new one is as sure as the others
  const alike = (job.proof?.readings ?? []).find((r) => r.what === probe.what);
  const sigma = alike?.[SIGMA_KEY[unit]];
  return {
    what: probe.what,
    ...(probe.strut === undefined ? {} : { strut: probe.strut }),
    ...(probe.end === undefined ? {} : { end: probe.end }),
    ...(strutted && probe.at !== 'angle' ? { at: probe.at } : {}),
    ...(probe.what === 'hand-force' || (strutted && probe.at === 'angle') ? { angleDeg: probe.angleDeg } : {}),
    ...(probe.way === undefined ? {} : { way: probe.way }),
    ...(probe.pull === 'upright' ? { pull: 'upright' } : {}),
    ...(probe.strutsOff ? { strutsOff: true } : {}),
    ...(probe.loadCase === condition.loadCase ? {} : { loadCase: probe.loadCase }),
    ...(sigma === undefined ? {} : { [SIGMA_KEY[unit]]: sigma }),
    [VALUE_KEY[unit]]: value,
  };
}
