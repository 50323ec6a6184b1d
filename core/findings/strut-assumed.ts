import type { ResolvedJob } from '../job';
import { ASSUMED_WORDS } from '../strut';
import { type Finding, check, strutName } from './finding';

/** A mass that nobody stated is not known, whatever stands in for it: everything that is ordered goes by it. */
function assumedMasses({
  masses,
  loadCases,
  assumed,
}: Pick<ResolvedJob, 'masses' | 'loadCases' | 'assumed'>): Finding[] {
  const taken = masses.filter(({ id }) => assumed?.includes(`masses.${id}.kg`));
  if (taken.length === 0) return [];
  const list = taken.map(({ id, name }) => name ?? id).join(', ');
  return [
    {
      ...{ id: 'assumed-values', case: loadCases[0]!.id, everyCase: true, subject: 'lid', state: 'unknown', unit: '' },
      ...{ value: null, limit: null, margin: null, worstDeg: null },
      text: `Not known: what ${list} really ${taken.length === 1 ? 'weighs' : 'weigh'}. The mass is assumed, and every force goes by it.`,
      advice: 'Weigh it before anything is ordered: two pulls with a luggage scale will do (Weigh).',
    },
  ];
}

/** assumed-values: numbers that nobody stated: a strut's, for which common practice stands in, and masses. */
export const assumedValues = check(
  'assumedValues',
  { job: ['struts', 'loadCases', 'masses', 'assumed'], from: [] },
  ({ job }) => [
    ...assumedMasses(job),
    ...job.struts.flatMap((strut): Finding[] => {
      const assumed = [...new Set(strut.spec.assumed ?? [])];
      const unstated = (strut.spec.unstated ?? []).filter((key) => !assumed.includes(key));
      if (assumed.length + unstated.length === 0) return [];
      const list = (keys: readonly (keyof typeof ASSUMED_WORDS)[]): string =>
        `${keys.map((key) => ASSUMED_WORDS[key]).join(', ')} ${keys.length === 1 ? 'is' : 'are'}`;
      const said = [
        ...(assumed.length > 0 ? [`${list(assumed)} assumed (common practice)`] : []),
        ...(unstated.length > 0 ? [`${list(unstated)} not stated and taken as none`] : []),
      ];
      const many = assumed.length + unstated.length > 1;
      return [
        {
          id: 'assumed-values',
          case: job.loadCases[0]!.id,
          everyCase: true,
          subject: strut.id,
          state: 'watch',
          value: null,
          limit: null,
          margin: null,
          unit: '',
          worstDeg: null,
          text: `${strutName(job, strut.id)}: ${said.join('; ')}, and every force that follows with ${many ? 'them' : 'it'}.`,
          advice: 'Ask the supplier for the numbers, or look at what the ends of their usual range would give.',
        },
      ];
    }),
  ],
);
