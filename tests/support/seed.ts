// `npm test` draws the same cases every time, so that it passes or fails for what was changed; the deep tier draws new
// ones. Shrinking a whole lid takes minutes and tells little: the seed and path that are printed bring the case back.
import fc from 'fast-check';
import { DEEP, runs } from './tier';

fc.configureGlobal({ numRuns: runs(1000), endOnFailure: true, ...(DEEP ? {} : { seed: 20_261_125 }) });
