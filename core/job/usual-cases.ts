import { STANDARD_GRAVITY } from '../quantity';
import { plateOf, toRad } from '../space';
import { append, freshId } from './edits';
import { caseName } from './case-name';
import { resolveJob } from './resolve';
import type { Job, JobLoadCase, LoadCase, ResolvedJob } from './types';

/** How a boat rolls and pitches, and where the lid is on it. */
export interface BoatMotion {
  /** Greatest roll to either side and pitch either way, degrees; 0 leaves it out. */
  readonly rollDeg: number;
  readonly pitchDeg: number;
  /** Time from one side to the other and back, s. */
  readonly rollS: number;
  readonly pitchS: number;
  /** Height of the lid over the axis that the boat turns about, mm. */
  readonly heightMm: number;
  /** How far ahead of the middle of the boat it is, mm; behind is negative. */
  readonly aheadMm: number;
}

/** What the usual load cases are made from; null or 0 leaves a kind out. */
export interface UsualOptions {
  readonly coldC: number | null;
  readonly hotC: number | null;
  /** Nose up and down, and to either side, degrees. */
  readonly noseDeg: number;
  readonly sideDeg: number;
  /** Gauge pressure that an aged strut has lost, percent. */
  readonly ageLossPercent: number;
  /** Speed of the wind, m/s; nothing without the lid's corners. */
  readonly windMs: number;
  /** Masses that come off: each alone, and all of them. */
  readonly off: readonly string[];
  /** Of a pair, or of several struts, one has failed. */
  readonly oneLost: boolean;
  /** It stands on a road vehicle that brakes hard and turns. */
  readonly onVehicle: boolean;
  readonly onBoat: BoatMotion | null;
}

/** −20 and +50 °C, 5° either way, 15 % lost with age: common practice, no source; all the user's to change. */
export const USUAL: Omit<UsualOptions, 'off'> = {
  coldC: -20,
  hotC: 50,
  noseDeg: 5,
  sideDeg: 5,
  ageLossPercent: 15,
  windMs: 0,
  oneLost: true,
  onVehicle: false,
  onBoat: null,
};

/** A small boat at anchor: common practice, no source; all the user's to change. */
export const USUAL_BOAT: BoatMotion = { rollDeg: 10, pitchDeg: 5, rollS: 6, pitchS: 4, heightMm: 1000, aheadMm: 0 };

/**
 * Hard braking, and what is held against turning and setting back, in g. Sources: EN 12195-1:2010 and the CTU Code (0.8 ahead,
 * 0.5 to the sides and to the back); 49 CFR 393.102 gives the same three.
 */
const BRAKING_G = 0.8;
const ASIDE_G = 0.5;

/** Whether the lid's corners enclose an area, which a seal or a wind can press on. */
export function hasPlate({ points, outline }: Pick<ResolvedJob, 'points' | 'outline'>): boolean {
  const place = new Map(points.map((p) => [p.id, p.at]));
  return plateOf(outline.map((id) => place.get(id)).filter((at) => at !== undefined)) !== null;
}

/** Masses that come off: those that a load case already takes off, else all but the heaviest. */
export function removableMasses(job: Pick<ResolvedJob, 'loadCases' | 'masses'>): string[] {
  const off = new Set(job.loadCases.flatMap((c) => c.off));
  if (off.size > 0) return job.masses.filter((m) => off.has(m.id)).map((m) => m.id);
  const heaviest = Math.max(...job.masses.map((m) => m.kg));
  const panel = job.masses.find((m) => m.kg === heaviest);
  return job.masses.filter((m) => m !== panel && m.kg > 0).map((m) => m.id);
}

/**
 * Greatest acceleration of a thing that swings to and fro, in g: a = ω²·A·r with ω = 2π/T, simple harmonic. `armMm` is its
 * distance from the axis. Quasi-static: taken as standing still at the end of the swing.
 * @example swayG(10, 6, 1500).toFixed(5) // "0.02928"
 */
export function swayG(amplitudeDeg: number, periodS: number, armMm: number): number {
  const omega = (2 * Math.PI) / periodS;
  return (omega * omega * toRad(amplitudeDeg) * armMm) / 1000 / STANDARD_GRAVITY;
}

/** A number that a file can show: swayed accelerations to 1e-4 g. */
const tidy = (v: number): number => Math.round(v * 1e4) / 1e4 + 0;

/** At the end of a roll or pitch the boat leans, and is being turned back: what stands high is pulled on toward the low side. */
function boatCases(m: BoatMotion): [string, Partial<JobLoadCase>][] {
  const cases: [string, Partial<JobLoadCase>][] = [];
  for (const way of [1, -1]) {
    if (m.rollDeg > 0)
      cases.push([
        way > 0 ? 'roll-left-up' : 'roll-left-down',
        { rollDeg: way * m.rollDeg, accelG: [0, tidy(way * swayG(m.rollDeg, m.rollS, m.heightMm)), 0] },
      ]);
    if (m.pitchDeg > 0)
      cases.push([
        way > 0 ? 'pitch-nose-down' : 'pitch-nose-up',
        {
          pitchDeg: way * m.pitchDeg,
          accelG: [
            tidy(-way * swayG(m.pitchDeg, m.pitchS, m.heightMm)),
            0,
            tidy(way * swayG(m.pitchDeg, m.pitchS, m.aheadMm)),
          ],
        },
      ]);
  }
  return cases;
}

/**
 * The usual load cases of a job, what comes together in one: as used; cold, weak and aged, level, on each slope and with a wind
 * that shuts; hot and strong, with each load off, all of them off, and then with a wind that opens; what a vehicle or a boat
 * does to it; of a pair (or of several struts) one lost. What a vehicle does and a lost strut are told, not demanded. They
 * have no names of their own: those follow from their values.
 */
export function usualCases(job: ResolvedJob, options: Partial<UsualOptions> = {}): JobLoadCase[] {
  const w: UsualOptions = { ...USUAL, off: removableMasses(job), ...options };
  const cases: JobLoadCase[] = [];
  const add = (id: string, told: Partial<JobLoadCase> = {}): void => {
    const usual = { off: [], pitchDeg: 0, rollDeg: 0, tempC: 20, force: 'nominal' } as const;
    cases.push({ id: id.slice(0, 60), ...usual, ...told });
  };
  const aged = w.ageLossPercent > 0 ? { ageLossPercent: w.ageLossPercent } : {};
  const weak = { ...(w.coldC === null ? {} : { tempC: w.coldC }), force: 'low', ...aged } as const;
  const strong = { ...(w.hotC === null ? {} : { tempC: w.hotC }), force: 'high' } as const;
  const blows = w.windMs > 0 && hasPlate(job);
  add('as-used');
  if (w.coldC !== null || w.ageLossPercent > 0) add('cold', weak);
  if (w.noseDeg > 0) {
    add('nose-up', { ...weak, pitchDeg: -w.noseDeg });
    add('nose-down', { ...weak, pitchDeg: w.noseDeg });
  }
  if (w.sideDeg > 0) {
    // rolled about +X (forward) by a positive angle the left side goes up
    add('left-up', { ...weak, rollDeg: w.sideDeg });
    add('left-down', { ...weak, rollDeg: -w.sideDeg });
  }
  if (blows) add('wind-shuts', { ...weak, wind: { ms: w.windMs, towards: 'shut' } });
  if (w.hotC !== null) add('hot', strong);
  for (const id of w.off) add(`off-${id}`, { ...strong, off: [id] });
  if (w.off.length > 1) add('all-off', { ...strong, off: [...w.off] });
  if (blows) add('wind-opens', { ...strong, off: [...w.off], wind: { ms: w.windMs, towards: 'open' } });
  if (w.onVehicle)
    for (const [id, accelG] of [
      ['braking', [-BRAKING_G, 0, 0]],
      ['speeding-up', [ASIDE_G, 0, 0]],
      ['turning-left', [0, ASIDE_G, 0]],
      ['turning-right', [0, -ASIDE_G, 0]],
    ] as const)
      add(id, { accelG: [...accelG], mustHold: false });
  if (w.onBoat) for (const [id, told] of boatCases(w.onBoat)) add(id, told);
  if (w.oneLost && job.struts.reduce((n, s) => n + s.quantity, 0) > 1)
    for (const { id } of job.struts) add(`lost-${id}`, { lost: [id], mustHold: false });
  return cases;
}

/** What of a load case counts: the same text, the same case, whatever it is called and whether it is demanded. */
function substance(c: LoadCase): string {
  const { off, lost, pitchDeg, rollDeg, tempC, force, ageLossPercent, accelG, wind } = c;
  const numbers = [pitchDeg, rollDeg, tempC, ageLossPercent, ...accelG].map((v) => v + 0);
  return JSON.stringify([[...off].sort(), [...lost].sort(), numbers, force, wind ?? null]);
}

/** A usual load case, what it is called, and whether the job has one like it. */
export interface UsualCase {
  readonly loadCase: JobLoadCase;
  readonly name: string;
  readonly there: boolean;
}

/** The usual load cases of a job, each with its name and whether there is one with the same values. Throws a LidwrightError as resolveJob does. */
export function usualChoice(job: Job, options: Partial<UsualOptions> = {}): UsualCase[] {
  const resolved = resolveJob(job);
  const has = new Set(resolved.loadCases.map(substance));
  const made = usualCases(resolved, options);
  const full = resolveJob({ ...job, loadCases: made }).loadCases;
  return made.map((loadCase, i) => ({
    loadCase,
    name: caseName(full[i]!, resolved),
    there: has.has(substance(full[i]!)),
  }));
}

/** Adds the usual load cases that a job has none like; what is there stays as it is. The same job where there is nothing to add. */
export function addUsualCases(job: Job, args: { options?: Partial<UsualOptions> } = {}): Job {
  return usualChoice(job, args.options)
    .filter(({ there }) => !there)
    .reduce(
      (next, { loadCase }) => append(next, 'loadCases', { ...loadCase, id: freshId(next, 'loadCases', loadCase.id) }),
      job,
    );
}
