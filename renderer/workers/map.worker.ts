import { type MapOptions, type WorksMap, mapSteps } from '../../core/find';
import type { Job } from '../../core/job';
import { answerBy } from './answer';

export interface MapQuestion {
  readonly job: Job;
  readonly options: MapOptions;
  /** Cells a side of each picture in turn. */
  readonly sides: readonly number[];
  /** Whether what the quick look leaves open is held against the full findings. */
  readonly finish: boolean;
}

/** The picture so far, and the number it has in its run: it is told again and again, and drawn once. */
export interface MapSoFar {
  readonly picture: number;
  readonly map: WorksMap | null;
}

function* pictures({ job, options, sides, finish }: MapQuestion): Generator<MapSoFar, WorksMap> {
  let so: MapSoFar = { picture: 0, map: null };
  const steps = mapSteps(job, options, sides, finish);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
    if (value) so = { picture: so.picture + 1, map: value };
    yield so;
  }
}

answerBy(pictures);
