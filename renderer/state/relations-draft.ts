import { type Job, type JobRelation, RELATION_SHAPE, type RelationKind } from '../../core/job';
import { presentPlace } from '../../core/survey';

/** A relation being put together; points are ids, '' where none is chosen yet. */
export interface RelationDraft {
  readonly kind: RelationKind;
  /** Which of a kind's forms, an index of FORMS[kind]. */
  readonly form: number;
  readonly points: readonly string[];
  readonly strut: string;
  readonly view: 'side' | 'top' | 'front' | null;
  /** What was typed for the value; null: as it is now. */
  readonly text: string | null;
}

interface Form {
  /** Words for the form; shown where a kind has more than one. */
  readonly words: string;
  readonly roles: readonly string[];
  readonly axis?: 'x' | 'y' | 'z';
}

/** What each kind is called, and the points it takes in the order asked for. */
export const KIND_WORDS: Readonly<Record<RelationKind, string>> = {
  fixed: 'stays where it is',
  distance: 'distance between two points',
  'level-with': 'level with another point',
  'plumb-with': 'plumb with another point',
  'in-line': 'points in line',
  'on-line': 'point on a line',
  'on-plane': 'point on a plane',
  'on-circle': 'point on a circle about the hinge',
  mirrored: 'mirror image of another point',
  'equal-distance': 'two equal distances',
  angle: 'angle',
  'closed-length': 'closed length of a strut',
  'open-length': 'open length of a strut',
};

const across = (axis: 'x' | 'y' | 'z', roles: readonly string[]): Form => ({
  words: `the plane across ${axis}`,
  roles,
  axis,
});

export const FORMS: Readonly<Record<RelationKind, readonly Form[]>> = {
  fixed: [{ words: '', roles: ['Point'] }],
  distance: [{ words: '', roles: ['From', 'To'] }],
  'level-with': [{ words: '', roles: ['Point', 'Level with'] }],
  'plumb-with': [{ words: '', roles: ['Point', 'Plumb with'] }],
  'in-line': [{ words: '', roles: ['First point', 'Second point', 'Third point'] }],
  'on-line': [{ words: '', roles: ['Point', 'Line from', 'Line to'] }],
  'on-plane': [
    across('x', ['Point']),
    across('y', ['Point']),
    across('z', ['Point']),
    { words: 'the plane of three points', roles: ['Point', 'Plane 1', 'Plane 2', 'Plane 3'] },
  ],
  'on-circle': [{ words: '', roles: ['Point'] }],
  mirrored: [
    { words: 'the middle of the hinge', roles: ['Point', 'Image'] },
    across('x', ['Point', 'Image']),
    across('y', ['Point', 'Image']),
    across('z', ['Point', 'Image']),
  ],
  'equal-distance': [{ words: '', roles: ['From', 'To', 'As far as from', 'To'] }],
  angle: [
    { words: 'of a line to level', roles: ['Line from', 'Line to'] },
    { words: 'at a point', roles: ['One leg', 'At', 'Other leg'] },
    { words: 'between two lines', roles: ['Line 1 from', 'Line 1 to', 'Line 2 from', 'Line 2 to'] },
  ],
  'closed-length': [{ words: '', roles: [] }],
  'open-length': [{ words: '', roles: [] }],
};

export const rolesOf = (draft: RelationDraft): readonly string[] => {
  const { roles } = FORMS[draft.kind][draft.form]!;
  const more = draft.points.length - roles.length;
  return more > 0 ? [...roles, ...Array.from({ length: more }, (_, i) => `Point ${roles.length + i + 1}`)] : roles;
};

export const emptyDraft = (kind: RelationKind, job: Job, form = 0): RelationDraft => ({
  kind,
  form,
  points: FORMS[kind][form]!.roles.map(() => ''),
  strut: RELATION_SHAPE[kind].points[1] === 0 ? (job.struts[0]?.id ?? '') : '',
  view: null,
  text: null,
});

/** With a point in the first place that is free; "in line" takes more and more. Null when it can't be used. */
export function withPoint(draft: RelationDraft, id: string): RelationDraft | null {
  const free = draft.points.indexOf('');
  const twice = draft.kind === 'equal-distance' || (draft.kind === 'angle' && draft.points.length === 4);
  if (!twice && draft.points.includes(id)) return null;
  if (free >= 0) return { ...draft, points: draft.points.map((p, i) => (i === free ? id : p)) };
  const most = RELATION_SHAPE[draft.kind].points[1];
  return draft.kind === 'in-line' && draft.points.length < most ? { ...draft, points: [...draft.points, id] } : null;
}

/** The draft as a relation without its value; null while points are missing. */
export function relationOf(draft: RelationDraft, job: Job): Omit<JobRelation, 'id'> | null {
  if (draft.points.includes('')) return null;
  const needsStrut = RELATION_SHAPE[draft.kind].points[1] === 0;
  if (needsStrut && !job.struts.some((s) => s.id === draft.strut)) return null;
  const { axis } = FORMS[draft.kind][draft.form]!;
  const place = draft.kind === 'fixed' ? presentPlace(job, draft.points[0]!) : null;
  return {
    kind: draft.kind,
    ...(needsStrut ? { strut: draft.strut } : { points: [...draft.points] }),
    ...(draft.view && RELATION_SHAPE[draft.kind].view ? { view: draft.view } : {}),
    ...(axis ? { axis } : {}),
    ...(place ? { at: [...place] } : {}),
  };
}
