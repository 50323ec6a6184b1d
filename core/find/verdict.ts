import { demandOf } from '../demands';
import type { Finding } from '../findings';
import type { LoadCase } from '../job';
import { METRIC } from '../quantity';
import { type Workings, workingsOf } from '../workings';
import { type Fitted, applyPlace } from './apply';
import type { Field } from './field';

/** A place that the full findings were asked about. Forces N; a lift or pull of 0 or less is none. */
export interface Verdict {
  /** What stands against it: all that fails, and what must not stay unknown. */
  readonly refused: readonly Finding[];
  /** What else is not known: told with it, refuses nothing. */
  readonly unknown: readonly Finding[];
  /** Least share over all demands and all load cases that must hold. */
  readonly spare: number;
  readonly tightest: { readonly id: string; readonly case: string | null };
  readonly liftN: number | null;
  readonly pullN: number | null;
  readonly greatestForceN: number | null;
  readonly greatestHingeN: number | null;
  readonly workings: Workings;
}

const MUST_BE_KNOWN = new Set([
  'strut-fits',
  'closed-reserve',
  'open-reserve',
  'hand-opening',
  'hand-closing',
  'stays-open',
  'rod-buckling',
  'base-joint',
  'lid-joint',
]);

/** Whether a finding refuses a place. */
export const refuses = ({ id, state, caution }: Finding): boolean =>
  !caution && (state === 'fails' || (state === 'unknown' && (MUST_BE_KNOWN.has(id) || id.startsWith('clearance-'))));

/** Demands that count towards what is to spare; joints, dead centre, gaps and brackets are held or not. */
const SPARES = new Set([
  'closed-reserve',
  'open-reserve',
  'hand-opening',
  'hand-closing',
  'stays-open',
  'rod-buckling',
  'let-go-open',
  'let-go-shut',
  'grip-at-shut',
  'latch-holds',
]);

/** What a finding leaves to spare, 1 or less; null where it has no share. */
function shareOf(f: Finding, liftNm: number, isStop: boolean): number | null {
  if (f.value === null || f.limit === null || !SPARES.has(f.id) || (isStop && f.id === 'open-reserve')) return null;
  // held by the plain rule the rod is as good as any
  if (f.id === 'rod-buckling' && f.state === 'holds') return 1;
  return demandOf(f.id)!.share(f.value, f.limit, { liftNm });
}

/** Finding ids whose outcome is of one strut: of others it is not this place's. */
const OF_STRUT = new Set(['closed-reserve', 'open-reserve', 'rod-buckling']);

/** What the full findings say of the field's job with a place fitted. `before` saves what both have alike. */
export function verdictOf(field: Field, place: Fitted, before?: Workings): Verdict {
  const w = workingsOf(applyPlace(field.raw, { strutIndex: field.strutIndex, place }), METRIC, before);
  return judged(w, field.strutIndex);
}

/** What the findings of workings say of the strut of an index where it is. */
export function judged(w: Workings, strutIndex: number): Verdict {
  const { job, frame, findings } = w;
  const strut = job.struts[strutIndex]!;
  const must = new Set(job.loadCases.filter((c: LoadCase) => c.mustHold).map((c) => c.id));
  const counts = (f: Finding): boolean =>
    (f.everyCase || must.has(f.case)) && (!OF_STRUT.has(f.id) || f.subject === strut.id);
  const liftNm = (job.limits.handOpenN * frame.gripRadiusMm) / 1000;
  let spare = Infinity;
  let tightest: Verdict['tightest'] = { id: '', case: null };
  for (const finding of findings) {
    if (!counts(finding)) continue;
    const share = shareOf(finding, liftNm, frame.stoppedBy === strut.id);
    if (share === null || share >= spare) continue;
    spare = share;
    tightest = { id: finding.id, case: finding.everyCase ? null : finding.case };
  }
  const greatest = (id: string): number | null => {
    const values = findings.filter((f) => f.id === id && must.has(f.case) && f.value !== null).map((f) => f.value!);
    return values.length > 0 ? Math.max(...values) : null;
  };
  let pressed: number | null = null;
  job.loadCases.forEach((c, i) => {
    if (!c.mustHold) return;
    for (const force of w.tables[i]!.struts[strutIndex]!.compressingN)
      if (!Number.isNaN(force) && (pressed === null || force > pressed)) pressed = force;
  });
  return {
    refused: findings.filter(refuses),
    unknown: findings.filter((f) => f.state === 'unknown' && !f.caution && !refuses(f)),
    spare,
    tightest,
    liftN: greatest('hand-opening'),
    pullN: greatest('hand-closing'),
    greatestForceN: pressed,
    greatestHingeN: findings.find((f) => f.id === 'hinge-load')?.value ?? null,
    workings: w,
  };
}
