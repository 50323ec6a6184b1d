// Two tiers of one set of tests: `npm test` draws few random cases, `npm run test:deep` the long runs.

export const DEEP = process.env['LIDWRIGHT_DEEP'] === '1';

/** Processor time of this process, s: what a test may hold against a limit, whatever else the machine does. */
export const processorSeconds = (): number => process.cpuUsage().user / 1e6;

/**
 * How many random cases a test draws: `deep` of them in the deep tier; at the desk a twenty-fifth (rounded up), or
 * `desk` where so few would miss what the test must see.
 * @example runs(25) // 1
 */
export const runs = (deep: number, desk = Math.max(1, Math.ceil(deep / 25))): number => (DEEP ? deep : desk);

/** Of cases alike that take long one by one: all in the deep tier, the first `desk` of them at the desk. */
export const sample = <T>(cases: readonly T[], desk = 1): readonly T[] => (DEEP ? cases : cases.slice(0, desk));
