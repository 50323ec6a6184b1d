// The one list of what is asked of a lid and its struts: findings, ranking, windows, advice and Prove judge by it.

/** What the spare of a demand is measured against. */
export interface SpareScale {
  /** The lifting limit at the grip, as a moment, N·m. */
  readonly liftNm: number;
}

/** One thing that is asked. Ids are those of the findings, but for 'no-such-strut' and 'opening-angle'. */
export interface Demand {
  /** Ends in "-" where it is a family: one finding for each obstacle, bracket, check … */
  readonly id: string;
  /** What it is about, as part of a sentence. */
  readonly words: string;
  readonly better: 'more' | 'less';
  /** Whether it can fail, or is watched at most. */
  readonly fails: boolean;
  /** Every load case has a finding of its own; of the others there is one a thing, its worst case named. */
  readonly perCase: boolean;
  /** Where the job sets no limit, a value beyond this is watched. */
  readonly measure: number | null;
  /** What is to spare, 1 or less; 0 at the limit. */
  readonly share: (value: number, limit: number, scale: SpareScale) => number;
}

const capped = (spare: number, of: number): number => (of > 0 ? Math.min(1, spare / of) : spare >= 0 ? 1 : -1);
/** Reserves over this many mm more than asked are as good as any. */
const AMPLE_MM = 10;

const ofLimit = (value: number, limit: number): number => capped(limit - value, limit);
const overLimit = (value: number, limit: number): number => capped(value - limit, limit);
const millimetres = (mm: number, limitMm: number): number => capped(mm - limitMm, Math.max(AMPLE_MM, limitMm));

const demand = (
  id: string,
  words: string,
  better: Demand['better'],
  share: Demand['share'],
  more: Partial<Pick<Demand, 'fails' | 'perCase' | 'measure'>> = {},
): Demand => ({ id, words, better, share, fails: true, perCase: false, measure: null, ...more });

const perCase = { perCase: true };
const watched = { fails: false };

/**
 * Energies and forces that are watched where the job sets no limit. Source: EN 953:1997+A1 5.2.5.2 (taken over by ISO 14120),
 * quoted: 10 J for a guard that opens again on touch, wide edge and no shear point; 75 N for one that does not. A measure, not a
 * limit for a lid that is moved by hand.
 */
export const MUCH = { energyJ: 10, forceN: 75 } as const;

/** In the order in which they are looked at. */
export const DEMANDS: readonly Demand[] = [
  demand('no-such-strut', 'being a strut at all', 'more', () => 1),
  demand('strut-fits', 'staying inside the stroke', 'less', (mm) => (mm > 0 ? -1 : 1)),
  demand('closed-reserve', 'shutting with stroke to spare', 'more', millimetres),
  demand('open-reserve', 'reaching fully open with stroke to spare', 'more', millimetres),
  demand('opening-angle', 'opening far enough', 'more', overLimit),
  demand('hand-opening', 'lifting within the limit', 'less', ofLimit, perCase),
  demand('hand-closing', 'shutting by hand within the limit', 'less', ofLimit, perCase),
  demand('stays-open', 'holding open', 'more', (nm, limit, { liftNm }) => capped(nm - limit, liftNm), perCase),
  demand('rod-buckling', 'the rod not buckling', 'more', overLimit, perCase),
  demand('strut-exists', 'the stroke going into the length', 'more', millimetres),
  demand('dead-centre', 'keeping off the dead centre', 'more', millimetres),
  demand('base-joint', 'the base joint’s range', 'less', ofLimit),
  demand('lid-joint', 'the lid joint’s range', 'less', ofLimit),
  demand('base-swing', 'the swing about the base pin', 'less', ofLimit),
  demand('lid-swing', 'the swing about the lid pin', 'less', ofLimit),
  demand('let-go-open', 'throwing itself open', 'less', ofLimit, { measure: MUCH.energyJ }),
  demand('let-go-shut', 'falling shut', 'less', ofLimit, { measure: MUCH.energyJ }),
  demand('grip-at-shut', 'the push at the grip when unlatched', 'less', ofLimit, { measure: MUCH.forceN }),
  demand('latch-holds', 'what the latch holds', 'less', ofLimit),
  demand('stays-shut', 'staying shut without a latch', 'less', ofLimit, watched),
  demand('hinge-load', 'what a hinge carries', 'less', ofLimit),
  demand('hinge-screws', 'what the screws of a hinge hold', 'less', ofLimit),
  demand('socket-pull', 'the pull on a ball socket', 'less', ofLimit),
  demand('spring-travel', 'what a spring bears', 'less', ofLimit),
  demand('clearance-', 'clearance', 'more', millimetres),
  demand('room-', 'room for the lid', 'more', millimetres),
  demand('free-opening', 'opening before it touches', 'more', overLimit),
  demand('bracket-strength-', 'the strength of a bracket', 'more', overLimit),
];

const BY_ID = new Map(DEMANDS.map((d) => [d.id, d]));
const FAMILIES = DEMANDS.filter((d) => d.id.endsWith('-'));

/** The demand that a finding is about; undefined where it asks for nothing that is measured. */
export const demandOf = (findingId: string): Demand | undefined =>
  BY_ID.get(findingId) ?? FAMILIES.find((d) => findingId.startsWith(d.id));

/** What of a finding, or of anything measured like one, is compared. */
export interface Judged {
  readonly id: string;
  readonly subject: string;
  readonly case: string;
  readonly state: string;
  readonly value: number | null;
  readonly limit: number | null;
}

/** Tells demands of one job apart, and finds them again when the job has changed. */
export const demandKey = ({ id, subject, case: at }: Pick<Judged, 'id' | 'subject' | 'case'>): string =>
  demandOf(id)?.perCase ? `${id}|${subject}|${at}` : `${id}|${subject}`;

/** How far inside its limit, or the measure that stands for one; null where nothing is measured. */
export function spareOf({ id, value, limit }: Pick<Judged, 'id' | 'value' | 'limit'>): number | null {
  const found = demandOf(id);
  const against = limit ?? found?.measure ?? null;
  if (!found || value === null || against === null) return null;
  return found.better === 'more' ? value - against : against - value;
}
