import { type BracketSpec, bracketSpecOf, isOwnMirror, mirroredSpec } from '../bracket';
import type { Bracket, ResolvedJob } from '../job';
import { type Vec3, add, cross, dot, norm, scale, sub, unit } from '../space';

/** One hand of a bracket: the part as it is made, how many, and where it goes. */
export interface Hand {
  /** "" for the one as the job has it; "twin" for its mirror image. */
  readonly id: '' | 'twin';
  readonly spec: BracketSpec;
  readonly quantity: 1 | 2;
  /** "left", "right", "upper", "lower"; empty where one part does for all. */
  readonly side: string;
}

/** A hinge axis this near to plumb has an upper and a lower side, not a left and a right. */
const PLUMB = 0.7;
const OTHER: Readonly<Record<string, string>> = { left: 'right', right: 'left', upper: 'lower', lower: 'upper' };

/** On which side of the lid's middle a place lies, seen from the grip: left, right, upper or lower; empty in the middle. */
export function sideOf(job: ResolvedJob, at: Vec3): string {
  const point = (id: string): Vec3 => job.points.find((p) => p.id === id)!.at;
  const [a, b] = [point(job.hinge.a), point(job.hinge.b)];
  const axis = unit(sub(b, a));
  const off = dot(sub(at, scale(add(a, b), 0.5)), axis);
  if (Math.abs(off) < 1) return '';
  if (Math.abs(axis[2]) > PLUMB) return off * axis[2] > 0 ? 'upper' : 'lower';
  const arm = sub(a, point(job.grip));
  const ahead = sub(arm, scale(axis, dot(arm, axis)));
  const right = cross(ahead, [0, 0, 1]);
  // a lid that hangs or stands is looked at from where it opens to: its own arm shows no left and right
  if (norm(right) < 0.2 * norm(ahead)) return off > 0 ? 'right' : 'left';
  return off * dot(axis, right) > 0 ? 'right' : 'left';
}

/** Whether the strut that a bracket holds is one of a mirrored pair. */
export const paired = (job: ResolvedJob, bracket: Bracket): boolean =>
  job.struts.find((s) => s.id === bracket.strut)?.quantity === 2;

/** The parts that a job's bracket stands for: one; two alike; or, of a pair that is not its own mirror image, one of each hand. */
export function handsOf(job: ResolvedJob, bracket: Bracket): readonly Hand[] {
  const spec = bracketSpecOf(bracket);
  if (!paired(job, bracket)) return [{ id: '', spec, quantity: 1, side: '' }];
  if (isOwnMirror(spec)) return [{ id: '', spec, quantity: 2, side: '' }];
  const strut = job.struts.find((s) => s.id === bracket.strut)!;
  const at = job.points.find((p) => p.id === strut[bracket.end])!.at;
  const side = sideOf(job, at);
  return [
    { id: '', spec, quantity: 1, side: side || 'one' },
    { id: 'twin', spec: mirroredSpec(spec), quantity: 1, side: OTHER[side] ?? 'other' },
  ];
}

/** What a sheet says of a hand: how many, and which. */
export function handWords({ id, quantity, side }: Hand, hands: readonly Hand[]): string {
  if (hands.length === 1) return quantity === 2 ? '2 off, alike: one part does for either side of the lid.' : '';
  const where = `${side} side of the lid, seen from the grip`;
  return id === ''
    ? `1 off, for the ${where}. The other side takes its mirror image, drawn on a sheet of its own.`
    : `1 off, for the ${where}: the mirror image of the other sheet's part.`;
}
