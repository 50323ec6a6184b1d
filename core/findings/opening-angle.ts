import { type Finding, check, degrees, strutName } from './finding';

/** opening-angle: where a strut is to stop the lid, which one does and how far it opens; or that none does. */
export const openingAngle = check(
  'openingAngle',
  { job: ['travel', 'struts', 'loadCases'], from: ['frame'] },
  ({ job, frame }): Finding[] => {
    if (job.travel.stop !== 'strut') return [];
    const { stoppedBy, openDeg } = frame;
    const most = job.travel.openDeg;
    return [
      {
        id: 'opening-angle',
        case: job.loadCases[0]!.id,
        everyCase: true,
        subject: stoppedBy ?? 'lid',
        state: stoppedBy === null ? 'watch' : 'holds',
        value: openDeg,
        // how far it must open nobody has said: the job's angle is the most it may
        limit: null,
        margin: null,
        unit: '°',
        worstDeg: openDeg,
        text:
          stoppedBy === null
            ? `Nothing stops the lid at ${degrees(most)}: a strut is to stop it, and none is fully extended there.`
            : `${strutName(job, stoppedBy)} stops the lid at ${degrees(openDeg)}; it may open to ${degrees(most)}.`,
        advice:
          stoppedBy === null
            ? 'Give the lid a stop of its own, or a strut that is fully extended where it is to stop.'
            : '',
      },
    ];
  },
);
