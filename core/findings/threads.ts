import { bracketSpecOf, isPinned } from '../bracket';
import type { EndName, JobPart, ResolvedJob, Strut } from '../job';
import { fittingKind, fittingOf } from '../joint';
import { usualBody } from '../strut';
import { type Finding, check, strutName } from './finding';

/** The threads that meet at one end of a strut; null: the job does not say. */
export interface EndThreads {
  /** Usual on a rod of this size: no job states it. */
  readonly rod: string;
  readonly fitting: string | null;
  readonly stud: string | null;
  /** What does not go together, in words. */
  readonly faults: readonly string[];
  /** The job itself names both threads that differ. */
  readonly sure: boolean;
}

/** What a strut's end, its fitting and the bracket's stud are threaded with, and whether they go together. */
export function endThreads(job: Pick<ResolvedJob, 'brackets'>, strut: Strut, end: EndName): EndThreads {
  const { rodMm, tubeMm } = strut.spec;
  const rod = usualBody(rodMm, tubeMm).endThread;
  const id = strut.ends[end].fitting;
  const named = fittingOf(id);
  const fitting = named?.thread?.name ?? null;
  const bracket = job.brackets.find((b) => b.strut === strut.id && b.end === end);
  const spec = bracket && bracketSpecOf(bracket);
  const faults: string[] = [];
  if (fitting !== null && fitting !== rod)
    faults.push(
      `its thread ${fitting} is not the ${rod} usual on a rod of ${rodMm} mm: ask for a strut with ${fitting} ends, or take a fitting with ${rod}`,
    );
  const kind = fittingKind(id);
  const balls = kind === 'angled-ball' || kind === 'axial-ball';
  const stud = spec && !isPinned(spec) && !spec.bought && balls ? (bracket.stud?.thread ?? null) : null;
  const socket = fitting ?? rod;
  if (stud !== null && stud !== socket)
    faults.push(
      `the bracket’s stud is ${stud}, sockets ${socket} go on studs ${socket}${fitting === null ? ' (the thread usual on this strut, as the job names no size)' : ''}: change one of them`,
    );
  const pinMm = kind === 'fork' ? (named?.ballMm ?? null) : null;
  const holeMm = spec && isPinned(spec) ? spec.studHole.diameterMm : null;
  const pinTooThick = pinMm !== null && holeMm !== null && pinMm > holeMm + 1e-6;
  if (pinTooThick)
    faults.push(`the fork’s pin is ${pinMm} mm, the bracket’s holes are ${holeMm} mm: drill them larger`);
  return {
    ...{ rod, fitting, stud, faults },
    sure: pinTooThick || (fitting !== null && stud !== null && fitting !== stud),
  };
}

const READS: readonly JobPart[] = ['struts', 'brackets', 'loadCases'];

/** base-thread, lid-thread: whether strut, fitting and the bracket's stud can be screwed together. Common practice where the job names no size. */
export const threads = check('threads', { job: READS, from: [] }, ({ job }) =>
  job.struts.flatMap((strut) =>
    (['base', 'lid'] as const).flatMap((end): Finding[] => {
      const { fitting, stud, rod, faults, sure } = endThreads(job, strut, end);
      // nothing that the job names could be held against another
      if (fitting === null && stud === null && faults.length === 0) return [];
      const name = `${strutName(job, strut.id)}, ${end} end`;
      const state = faults.length === 0 ? 'holds' : sure ? 'fails' : 'watch';
      return [
        {
          id: `${end}-thread`,
          case: job.loadCases[0]!.id,
          everyCase: true,
          subject: strut.id,
          state,
          value: null,
          limit: null,
          margin: null,
          unit: '',
          worstDeg: null,
          text:
            faults.length === 0
              ? `${name}: ${fitting ?? stud ?? rod} goes together${fitting === null ? ', if the strut has the thread usual on its rod' : ''}.`
              : `${name}: ${faults.join('; ')}.`,
          advice: faults.length === 0 ? '' : 'Settle it before anything is ordered or drilled.',
        },
      ];
    }),
  ),
);
