import type { Bracket } from '../job';
import type { BentAngle } from './spec';

/** A job's bracket as this room takes it. */
export const bentAngleOf = (bracket: Bracket): BentAngle => ({ ...bracket, name: bracket.name ?? bracket.id });
