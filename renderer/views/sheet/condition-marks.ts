import { attempt } from '../../../core/error';
import type { Job, ResolvedJob } from '../../../core/job';
import { type ShownUnits, formatQuantity } from '../../../core/quantity';
import { type Vec3, add, scale } from '../../../core/space';
import { holdsClosedOnly, relationsOff } from '../../../core/survey';
import { circleAbout } from '../../../core/travel';
import type { Plane } from '../../state/planes';
import type { Scene } from './scene';
import { keepLast } from './seen';

/** What a view shows of a relation: lines between its points and a few plain words beside each. */
export interface RelationMark {
  readonly id: string;
  readonly lines: readonly (readonly Vec3[])[];
  /** One label or more, each beside a place. */
  readonly labels: readonly { readonly text: string; readonly at: Vec3 }[];
}

const CIRCLE_STEPS = 48;
const middle = (a: Vec3, b: Vec3): Vec3 => scale(add(a, b), 0.5);

/** The marks of the relations in use that a view shows: those in space, and those that hold in it. */
export function relationMarks(job: ResolvedJob, scene: Scene, plane: Plane, units: ShownUnits): RelationMark[] {
  const lengthText = (mm: number | undefined): string => formatQuantity(mm ?? 0, 'length', units);
  let equals = 0;
  return job.relations.flatMap((r): RelationMark[] => {
    if (r.kind === 'equal-distance') equals++;
    if (r.use === false || (r.view && r.view !== plane)) return [];
    const strut = job.struts.find((s) => s.id === r.strut);
    const ids = r.points ?? (strut ? [strut.base, strut.lid] : []);
    const at = ids.map((id) => scene.posed.get(id));
    if (at.length === 0 || at.some((p) => p === undefined)) return [];
    const [a, b, c, d] = at as [Vec3, Vec3, Vec3, Vec3]; // as many as its kind takes
    const points = at.length;
    const mark = (lines: readonly (readonly Vec3[])[], text: string, ...places: Vec3[]): RelationMark[] => [
      { id: r.id, lines, labels: places.map((p) => ({ at: p, text })) },
    ];
    switch (r.kind) {
      case 'fixed':
        return mark([], 'fixed', a);
      case 'distance':
        return mark([[a, b]], lengthText(r.valueMm), middle(a, b));
      case 'level-with':
        return mark([[a, b]], 'level', middle(a, b));
      case 'plumb-with':
        return mark([[a, b]], 'plumb', middle(a, b));
      case 'in-line':
        return mark([at as Vec3[]], 'in line', middle(a, at.at(-1)!));
      case 'on-line':
        return mark([[b, c], [b, a]], 'on this line', a); // prettier-ignore
      case 'on-plane':
        return points > 1
          ? mark([[b, c, d, b]], 'in this plane', a)
          : mark([], `${r.axis} = ${lengthText(r.valueMm)}`, a);
      case 'on-circle':
        return mark(
          scene.axis ? [circleAbout(scene.axis, a, r.valueMm ?? 0, CIRCLE_STEPS)] : [],
          `${lengthText(r.valueMm)} from the hinge`,
          a,
        );
      case 'mirrored':
        return mark([[a, b]], 'mirrored', middle(a, b));
      case 'equal-distance':
        return mark([[a, b], [c, d]], `equal ${equals}`, middle(a, b), middle(c, d)); // prettier-ignore
      case 'angle': {
        const text = formatQuantity(r.valueDeg ?? 0, 'angle', units);
        if (points < 3) return mark([[a, b]], `${text} to level`, middle(a, b));
        return points > 3 ? mark([[a, b], [c, d]], text, middle(a, b), middle(c, d)) : mark([[a, b, c]], text, b); // prettier-ignore
      }
      case 'closed-length':
      case 'open-length':
        return mark(
          [[a, b]],
          `${r.kind === 'closed-length' ? 'closed' : 'open'} ${lengthText(r.valueMm)}`,
          middle(a, b),
        );
    }
  });
}

/** Adds to the labels what a person must know of them: that they speak of the shut lid, that they don't hold. */
export function withNotes(
  marks: readonly RelationMark[],
  job: ResolvedJob,
  angleDeg: number,
  off: readonly string[],
): RelationMark[] {
  return marks.map((m) => {
    const r = job.relations.find((x) => x.id === m.id)!;
    const note = (angleDeg > 0 && holdsClosedOnly(r, job) ? ', lid closed' : '') + (off.includes(m.id) ? ': off' : '');
    return note === '' ? m : { ...m, labels: m.labels.map((l) => ({ ...l, text: l.text + note })) };
  });
}

/** Which relations of a job don't hold; none where they can't be worked out (the panel says why). */
export const offOf = keepLast((job: Job): readonly string[] => {
  return attempt(() => relationsOff(job)).value ?? [];
});
