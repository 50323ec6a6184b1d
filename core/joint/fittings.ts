import { ANGLED_BALL_SIZES, FORK_SIZES, LISTED } from './fitting-tables';

/** How well a number is known. */
export type Provenance =
  | 'from dealers’ tables'
  | 'from a dealer’s table without headings'
  | 'common practice, no source';

/** A number with where it comes from. */
export interface Sourced {
  readonly value: number;
  readonly provenance: Provenance;
  readonly source: string;
}

export type FittingKind = 'angled-ball' | 'axial-ball' | 'eye' | 'fork';

/** A metric thread: outside diameter and pitch, mm. */
export interface RodThread {
  readonly name: string;
  readonly diameterMm: number;
  readonly pitchMm: number;
}

/** What stands on a rod's end. Lengths mm. The range is what a job starts from: its own number always wins. */
export interface Fitting {
  /** What a job file writes as `fitting`. */
  readonly id: string;
  readonly name: string;
  readonly kind: FittingKind;
  /** Angle between stem (or pin) and strut when nothing is strained, degrees. */
  readonly nominalDeg: number;
  /** How far the angle may leave its nominal one: for fork and eye out of their plane. */
  readonly rangeDeg: Sourced;
  /** Fork and eye: how far the strut turns about the pin before the slot's ground or its own housing stops it; null = freely. */
  readonly inPlaneDeg: number | null;
  readonly thread: RodThread | null;
  /** Ball or pin centre to the rod's end of the fitting. */
  readonly offsetMm: Sourced | null;
  /** Largest half width round the ball or pin centre. */
  readonly headRadiusMm: Sourced | null;
  readonly shankRadiusMm: Sourced | null;
  /** Ball or pin centre to where the fitting touches its stud or eye once it is past its range. */
  readonly rimMm: Sourced | null;
  /** Ball centre to the stud's shoulder: the stud's bending arm. */
  readonly studArmMm: Sourced | null;
  /** Least force that pulls the socket off, N. */
  readonly separatingN: Sourced | null;
  /** Ball or pin diameter. */
  readonly ballMm: number | null;
}

const listed = (value: number, what: string): Sourced => ({
  value,
  provenance: LISTED.provenance,
  source: `${LISTED.source}: ${what}`,
});
const practice = (value: number, what: string): Sourced => ({
  value,
  provenance: 'common practice, no source',
  source: what,
});
const mine = (value: number, what: string): Sourced => ({
  value,
  provenance: 'from a dealer’s table without headings',
  source: `${LISTED.forkSource}: ${what}`,
});

const generic = {
  thread: null,
  offsetMm: null,
  headRadiusMm: null,
  shankRadiusMm: null,
  rimMm: null,
  studArmMm: null,
  separatingN: null,
  ballMm: null,
};

/** Joints that a job may name without saying their size. */
const GENERIC: readonly Fitting[] = [
  {
    ...generic,
    id: 'ball-stud',
    name: 'Angled ball joint, size not said',
    kind: 'angled-ball',
    nominalDeg: 90,
    rangeDeg: listed(18, 'DIN 71802 without safety clip'),
    inPlaneDeg: null,
  },
  {
    ...generic,
    id: 'ball-stud-clip',
    name: 'Angled ball joint with safety clip, size not said',
    kind: 'angled-ball',
    nominalDeg: 90,
    rangeDeg: listed(15, 'DIN 71802 with safety clip'),
    inPlaneDeg: null,
  },
  {
    ...generic,
    id: 'axial-ball',
    name: 'Axial ball joint (stud in line with the strut)',
    kind: 'axial-ball',
    nominalDeg: 0,
    rangeDeg: practice(15, 'axial ball joints of this family'),
    inPlaneDeg: null,
  },
  {
    ...generic,
    id: 'eye',
    name: 'Plain eye on a pin',
    kind: 'eye',
    nominalDeg: 90,
    rangeDeg: practice(2, 'play of a plain eye on its pin'),
    inPlaneDeg: null,
  },
  {
    ...generic,
    id: 'fork',
    name: 'Fork and pin, size not said',
    kind: 'fork',
    nominalDeg: 90,
    rangeDeg: practice(3, 'a few degrees of play across the fork'),
    inPlaneDeg: 90,
  },
];

const BALLS: readonly Fitting[] = ANGLED_BALL_SIZES.flatMap((s) =>
  ([false, true] as const).map((clip): Fitting => ({
    id: `angled-ball-${s.ballMm}-${s.thread.name.toLowerCase()}${clip ? '-clip' : ''}`,
    name: `Angled ball joint ${s.ballMm}, ${s.thread.name}${clip ? ', with safety clip' : ''} (DIN 71802)`,
    kind: 'angled-ball',
    nominalDeg: 90,
    rangeDeg: listed(clip ? 15 : 18, clip ? 'with safety clip (CS, BS)' : 'without safety clip (C, B)'),
    inPlaneDeg: null,
    thread: s.thread,
    offsetMm: listed(s.shankEndMm, 'ball centre to end of the socket’s shank'),
    headRadiusMm: listed(s.headMm / 2, 'half the socket’s head, rounded figure'),
    shankRadiusMm: listed(s.shankMm / 2, 'half the socket’s shank'),
    rimMm: listed(s.headMm / 2, 'half the socket’s head: its rim is no further out'),
    studArmMm: listed(
      Math.max(...s.shoulderMm),
      'ball centre to the stud’s shoulder, the larger of listings that differ',
    ),
    separatingN: listed(s.separatingN, 'least separating force'),
    ballMm: s.ballMm,
  })),
);

const FORKS: readonly Fitting[] = FORK_SIZES.flatMap((s) =>
  ([0, 1] as const).map((long): Fitting => ({
    id: `fork-${s.pinMm}-${s.slotMm[long]}`,
    name: `Fork ${s.pinMm} × ${s.slotMm[long]} with pin, ${s.thread.name} (DIN 71752)`,
    kind: 'fork',
    nominalDeg: 90,
    rangeDeg: practice(3, 'a few degrees of play across the fork'),
    inPlaneDeg: 90,
    thread: s.thread,
    offsetMm: mine(s.holeToEndMm[long], 'hole to end of shank'),
    // A fork is square round its pin: its corner is what sweeps widest.
    headRadiusMm: mine(
      Math.hypot(s.widthMm / 2, s.overallMm[long] - s.holeToEndMm[long]),
      'corner of the cheeks from the pin',
    ),
    shankRadiusMm: mine(s.shankMm / 2, 'half the shank'),
    rimMm: mine(s.widthMm / 2, 'half the width across the cheeks'),
    studArmMm: null,
    separatingN: null,
    ballMm: s.pinMm,
  })),
);

/** Every fitting that the tool knows by name. */
export const FITTINGS: readonly Fitting[] = [...GENERIC, ...BALLS, ...FORKS];

/** The fitting of a job's word for it; undefined for a word of the user's own. */
export const fittingOf = (id: string): Fitting | undefined => FITTINGS.find((f) => f.id === id);

/** The kind of joint that a job's word means; words of the user's own count as angled ball joints unless they say what they are. */
export function fittingKind(id: string): FittingKind {
  const known = fittingOf(id);
  if (known) return known.kind;
  const word = id.toLowerCase();
  if (/fork|clevis/.test(word)) return 'fork';
  if (/\beye\b|^eye|-eye/.test(word)) return 'eye';
  return /axial|in-?line/.test(word) ? 'axial-ball' : 'angled-ball';
}

/** A fork or an eye turns freely about its pin and is held across it. */
export const turnsAboutPin = (id: string): boolean => ['fork', 'eye'].includes(fittingKind(id));

/** Rod diameters up to these carry this ball joint: common practice, no source; where two are usual, the weaker. */
const BY_ROD: readonly (readonly [number, string])[] = [
  [5, 'angled-ball-8-m5'],
  [7, 'angled-ball-10-m6'],
  [10, 'angled-ball-13-m8'],
  [Infinity, 'angled-ball-16-m10'],
];

/**
 * The fitting to reckon with: the one named, or, where its size is not said, the angled ball joint that common practice puts
 * on a rod of `rodMm`. `assumed` is true for the latter.
 */
export function sizedFitting(id: string, rodMm: number): { readonly fitting: Fitting; readonly assumed: boolean } {
  const named = fittingOf(id);
  if (named?.thread) return { fitting: named, assumed: false };
  const stand = fittingOf(BY_ROD.find(([most]) => rodMm <= most)![1])!;
  return { fitting: named ? { ...stand, kind: named.kind, rangeDeg: named.rangeDeg } : stand, assumed: true };
}

/** Root diameter d₃ of a thread, mm: d − 17H/12, H = (√3/2)·P. Source: ISO 68-1 profile, ISO 724. */
export const threadRootMm = (thread: RodThread): number =>
  thread.diameterMm - (17 / 12) * (Math.sqrt(3) / 2) * thread.pitchMm;
