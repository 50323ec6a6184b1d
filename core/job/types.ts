import type { z } from 'zod';
import type { Num } from './number-field';
import type { jobSchema } from './schema';

/** Drops the index signatures that "keep unknown keys" adds, so that a misspelt key is a type error. */
type Known<T> = T extends Num
  ? T
  : T extends readonly unknown[]
    ? { readonly [K in keyof T]: Known<T[K]> }
    : T extends object
      ? { readonly [K in keyof T as string extends K ? never : number extends K ? never : K]: Known<T[K]> }
      : T;

/** A job as it stands in its file: numbers may be givens or expressions. Immutable. */
export type Job = Known<z.infer<typeof jobSchema>>;
export type JobPoint = Job['points'][number];
export type JobStrut = Job['struts'][number];
export type JobEnd = JobStrut['ends']['base'];
export type JobPhoto = NonNullable<Job['photos']>[number];
export type JobBracket = NonNullable<Job['brackets']>[number];
export type JobObstacle = NonNullable<Job['obstacles']>[number];
export type JobSpring = NonNullable<Job['springs']>[number];
export type JobObservation = NonNullable<Job['observations']>[number];
export type JobRelation = NonNullable<Job['relations']>[number];
export type JobWeighings = NonNullable<Job['weighings']>;
export type JobPull = NonNullable<NonNullable<JobWeighings['pulls']>['readings']>[number];
export type JobLifted = NonNullable<NonNullable<JobWeighings['lifted']>['readings']>[number];
export type JobProof = NonNullable<Job['proof']>;
export type JobProofReading = NonNullable<JobProof['readings']>[number];
export type JobLoadCase = Job['loadCases'][number];
export type JobZone = NonNullable<Job['zones']>[number];
export type JobFind = NonNullable<Job['find']>;
export type EndName = 'base' | 'lid';

/** Every number field turned into a number. */
type Plain<T> = T extends number | string | boolean | undefined | null
  ? T
  : T extends { readonly given: string } | { readonly expression: string; readonly unit?: string }
    ? 'name' extends keyof T
      ? T
      : number
    : T extends readonly unknown[]
      ? { readonly [K in keyof T]: Plain<T[K]> }
      : T extends object
        ? { readonly [K in keyof T]: Plain<T[K]> }
        : T;

type Full<T, K extends keyof T> = Omit<T, K> & { readonly [P in K]-?: NonNullable<T[P]> };
type PlainJob = Plain<Job>;

export type Point = PlainJob['points'][number];
export type Mass = PlainJob['masses'][number];
export type StrutEnd = PlainJob['struts'][number]['ends']['base'];
export type Spec = Full<PlainJob['struts'][number]['spec'], 'frictionN' | 'toleranceN'> & {
  /** What the file leaves out and is taken as 0. */
  readonly unstated?: readonly ('frictionN' | 'toleranceN')[];
};
export type Strut = Omit<Full<PlainJob['struts'][number], 'quantity'>, 'spec'> & { readonly spec: Spec };
export type Wind = Full<NonNullable<PlainJob['loadCases'][number]['wind']>, 'coefficient'>;
export type LoadCase = Full<
  Omit<PlainJob['loadCases'][number], 'wind'> & { readonly wind?: Wind },
  'off' | 'pitchDeg' | 'rollDeg' | 'tempC' | 'force' | 'name' | 'ageLossPercent' | 'lost' | 'mustHold' | 'accelG'
>;
export type Limits = Full<
  NonNullable<PlainJob['limits']>,
  'handOpenN' | 'handCloseN' | 'reserveMm' | 'holdOpenNm' | 'clearanceMm'
>;
export type Photo = NonNullable<PlainJob['photos']>[number];
export type Spring = Full<NonNullable<PlainJob['springs']>[number], 'quantity'>;
export type Bracket = NonNullable<PlainJob['brackets']>[number];
export type Observation = NonNullable<PlainJob['observations']>[number];
export type Relation = NonNullable<PlainJob['relations']>[number];
export type Pull = Plain<JobPull>;
export type Lifted = Plain<JobLifted>;
export type ProofReading = NonNullable<NonNullable<PlainJob['proof']>['readings']>[number];
export type Obstacle = NonNullable<PlainJob['obstacles']>[number];
export type Zone = NonNullable<PlainJob['zones']>[number];
export type FindOptions = NonNullable<PlainJob['find']>;

/** A job with every number worked out and every default in place: what the kernel and the views read. */
export type ResolvedJob = Omit<
  PlainJob,
  | 'hinge'
  | 'struts'
  | 'springs'
  | 'loadCases'
  | 'limits'
  | 'outline'
  | 'photos'
  | 'brackets'
  | 'obstacles'
  | 'zones'
  | 'observations'
  | 'relations'
> & {
  readonly hinge: Full<PlainJob['hinge'], 'frictionNm'>;
  readonly struts: readonly Strut[];
  readonly springs: readonly Spring[];
  readonly loadCases: readonly LoadCase[];
  readonly limits: Limits;
  readonly outline: readonly string[];
  readonly photos: readonly Photo[];
  readonly brackets: readonly Bracket[];
  readonly obstacles: readonly Obstacle[];
  readonly zones: readonly Zone[];
  readonly observations: readonly Observation[];
  readonly relations: readonly Relation[];
};
