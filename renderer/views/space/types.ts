import type { ResolvedJob } from '../../../core/job';
import type { Vec3 } from '../../../core/space';
import type { Workings } from '../../../core/workings';

/** A place found for the strut: its balls, lid closed, mm. */
export interface Ghost {
  readonly base: Vec3;
  readonly lid: Vec3;
  readonly chosen: boolean;
}

/** Everything the 3D view shows; the job and outcome are compared by identity, so an unchanged one costs nothing. */
export interface View3DState {
  readonly job: ResolvedJob;
  /** Null when the job can't be worked out: the view then shows what it can, closed. */
  readonly outcome: Workings | null;
  readonly angleDeg: number;
  /** A point, mass or strut id. */
  readonly selected: string | null;
  readonly theme: 'light' | 'dark';
  readonly showTrace: boolean;
  /** Places found for the strut; compared by identity. */
  readonly ghosts: readonly Ghost[];
}

export interface View3DOptions {
  /** A click on (or beside) a point of the job. */
  onPick?(pointId: string): void;
}
