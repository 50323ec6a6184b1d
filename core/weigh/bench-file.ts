import { z } from 'zod';
import { LidwrightError, attempt, wordsOf } from '../error';
import { issueOfSchema, parseJson } from '../job';
import { type Dimension, evaluateQuantity } from '../quantity';
import type { StrutOnBench } from './strut-measured';

const size = (dimension: Dimension) =>
  z.union([z.number(), z.string()], { error: 'needs a number, or a text with a unit' }).transform((value, context) => {
    const { value: read, error } = attempt(() =>
      typeof value === 'number' ? value : evaluateQuantity(value, dimension),
    );
    if (!error && Number.isFinite(read)) return read;
    context.addIssue({ code: 'custom', message: error ? wordsOf(error) : 'is no number' });
    return z.NEVER;
  });

const schema = z.strictObject({
  name: z.string().min(1).max(100).default('My strut'),
  extendedMm: size('length'),
  strokeMm: size('length'),
  rodMm: size('length'),
  tubeMm: size('length'),
  tempC: size('temperature').default(20),
  labelN: size('force').nullable().default(null),
  readings: z
    .array(
      z.strictObject({
        lengthMm: size('length'),
        way: z.enum(['in', 'out'], { error: 'needs "in" or "out"' }),
        forceN: size('force'),
        plusMinusN: size('force'),
      }),
    )
    .min(1)
    .max(100),
});

/** Reads a file of scale readings of a strut on the bench. Throws a LidwrightError with every fault and its place in the file. */
export function readBench(text: string): StrutOnBench {
  const result = schema.safeParse(parseJson(text, 'Correct the file at that place.'), { reportInput: true });
  if (result.success) return result.data;
  const [first, ...also] = result.error.issues.map(issueOfSchema);
  throw new LidwrightError(first!, also);
}
