import { z } from 'zod';
import type { Dimension } from '../quantity';
import { LONGEST_EXPRESSION } from '../quantity';

// zod would try `new Function` otherwise, which a strict content policy reports.
z.config({ jitless: true });

/** A number in a job file: itself, a given's name, or an expression (`unit` is what its bare numbers are in). */
export type Num = number | { readonly given: string } | { readonly expression: string; readonly unit?: string };

/** What a number field means and which values make sense; resolved values are held against it. */
export interface NumberField {
  readonly dimension: Dimension;
  readonly min?: number;
  readonly max?: number;
  /** The bounds themselves are refused too. */
  readonly open?: boolean;
}

const fields = new WeakMap<object, NumberField>();

/** The number field that a schema node stands for, if it is one. */
export const numberFieldOf = (schema: object): NumberField | undefined => fields.get(schema);

const NAMES: Record<Dimension, string> = {
  length: 'a length in mm',
  mass: 'a mass in kg',
  force: 'a force in N',
  moment: 'a moment in N·m',
  angle: 'an angle in degrees',
  temperature: 'a temperature in °C',
  energy: 'an energy in J',
  number: 'a plain number',
};

/** Zod schema of a number field; bounds are checked on the resolved value, not here. */
export function num(field: NumberField): z.ZodType<Num> {
  const schema = z
    .union(
      [
        z.number(),
        z.looseObject({ given: z.string().min(1).max(40) }),
        z.looseObject({ expression: z.string().min(1).max(LONGEST_EXPRESSION), unit: z.string().max(20).optional() }),
      ],
      { error: (issue) => `needs ${NAMES[field.dimension]}, but is ${showValue(issue.input)}` },
    )
    .meta({ description: `${NAMES[field.dimension]}; or a given's name; or an expression with units` });
  fields.set(schema, field);
  return schema as unknown as z.ZodType<Num>;
}

/** A value as it can stand in a message: short, whatever came. */
export function showValue(value: unknown): string {
  if (value === undefined) return 'missing';
  if (value === null) return 'null';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object') return 'an object';
  const text =
    typeof value === 'string' ? JSON.stringify(value.length > 40 ? `${value.slice(0, 37)}…` : value) : String(value);
  return text;
}
