import { type CheckLine, type Part, isUnchecked, lineOf } from '../check';
import type { StrengthModel } from '../model';
import type { Unchecked } from '../types';
import { fixings } from './fixings';
import { gusset } from './gusset';
import { legs } from './legs';
import { seat } from './seat';
import { rod, stud, studHole } from './stud';
import { weld } from './weld';

/** Every part that is checked, in the order in which checks of one safety factor stand. */
const PARTS: readonly Part[] = [stud, rod, studHole, legs, fixings, weld, gusset, seat];

/** All checks of a model, those that lack something too. */
export const checkLines = (model: StrengthModel): (CheckLine | Unchecked)[] =>
  PARTS.flatMap((part) => part(model)).flatMap((row) =>
    isUnchecked(row) ? row : (row.applies ?? true) ? lineOf(row) : [],
  );
