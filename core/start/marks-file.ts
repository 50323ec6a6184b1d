import { z } from 'zod';
import { attempt, LidwrightError, wordsOf } from '../error';
import { type Job, issueOfSchema, parseJson } from '../job';
import { levelTurnDeg } from '../photo';
import { type Dimension, evaluateQuantity } from '../quantity';
import { PLACES, type PlaceName } from './lid';
import { type Trace, jobFromTrace, startTrace } from './trace';

/** A size as a person writes it: a number in the unit that its name ends in, or a text with units ("2 ft 6 in"). */
const size = (dimension: Dimension, above: number, most: number) =>
  z.union([z.number(), z.string()], { error: 'needs a number, or a text with a unit' }).transform((value, context) => {
    const { value: read, error } = attempt(() =>
      typeof value === 'number' ? value : evaluateQuantity(value, dimension),
    );
    if (!error && read > above && read <= most) return read;
    const message = error ? wordsOf(error) : `must be over ${above} and ${most} at most, but is ${read}`;
    context.addIssue({ code: 'custom', message });
    return z.NEVER;
  });

const pixel = z.tuple([z.number(), z.number()], { error: 'needs two pixel numbers, right and down' }).readonly();

const schema = z.strictObject({
  photo: z.string().regex(/^[^\0]{1,400}$/, 'needs the name of the photo, as seen from this file'),
  level: z
    .union(
      [
        z.strictObject({ from: pixel, to: pixel, along: z.enum(['level', 'plumb']).default('level') }),
        z.strictObject({ rotationDeg: size('angle', -360, 360) }),
      ],
      { error: 'needs {"from", "to", "along": "level" or "plumb"}, or {"rotationDeg"}' },
    )
    .default({ rotationDeg: 0 }),
  scale: z.strictObject({ from: pixel, to: pixel, lengthMm: size('length', 0, 1e5) }),
  marks: z.strictObject(Object.fromEntries(PLACES.map((place) => [place, pixel])) as Record<PlaceName, typeof pixel>),
  widthMm: size('length', 0, 1e5).optional(),
  kg: size('mass', 0, 1e5).optional(),
  openDeg: size('angle', 0, 350).optional(),
});

/** Marks on a photo with the sizes beside them, as typed into a file. */
export type MarksFile = z.output<typeof schema>;

/** Reads a file of marks. Throws a LidwrightError with every fault and its place in the file. */
export function readMarks(text: string): MarksFile {
  const result = schema.safeParse(parseJson(text, 'Correct the file at that place.'), { reportInput: true });
  if (result.success) return result.data;
  const [first, ...also] = result.error.issues.map(issueOfSchema);
  throw new LidwrightError(first!, also);
}

/** The job that the marks on a photo describe. Throws a LidwrightError for marks off the photo or on one pixel. */
export function jobFromMarks(marks: MarksFile, photo: Trace['photo']): Job {
  const wrong: { what: string; where: (string | number)[]; advice: string }[] = [];
  const on = (where: string[], [x, y]: readonly [number, number]): void => {
    if (x < 0 || y < 0 || x > photo.widthPx || y > photo.heightPx)
      wrong.push({
        what: `[${x}, ${y}] is off the photo of ${photo.widthPx} × ${photo.heightPx} pixels`,
        where,
        advice: 'Count pixels from the upper left corner of the upright photo.',
      });
  };
  const apart = (where: string, { from, to }: { from: readonly [number, number]; to: readonly [number, number] }) => {
    on([where, 'from'], from);
    on([where, 'to'], to);
    if (Math.abs(to[0] - from[0]) + Math.abs(to[1] - from[1]) < 2)
      wrong.push({ what: 'both marks are on one pixel', where: [where, 'to'], advice: 'Mark two places far apart.' });
  };
  const { level, scale } = marks;
  if ('from' in level) apart('level', level);
  apart('scale', scale);
  for (const place of PLACES) on(['marks', place], marks.marks[place]);
  if (wrong.length > 0) throw new LidwrightError(wrong[0]!, wrong.slice(1));
  const start = startTrace(photo);
  return jobFromTrace({
    ...start,
    rotationDeg: 'from' in level ? levelTurnDeg(level.from, level.to, level.along) : level.rotationDeg,
    scaleFrom: scale.from,
    scaleTo: scale.to,
    lengthMm: scale.lengthMm,
    marks: marks.marks,
    widthMm: marks.widthMm ?? start.widthMm,
    kg: marks.kg ?? start.kg,
    openDeg: marks.openDeg ?? start.openDeg,
  })!;
}
