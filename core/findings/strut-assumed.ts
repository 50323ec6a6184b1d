import { type Finding, check, strutName } from './finding';

const WORDS = { ratio: 'force ratio', frictionN: 'friction', toleranceN: 'tolerance' } as const;

/** assumed-values: numbers of a strut that nobody stated and common practice stands in for. */
export const assumedValues = check('assumedValues', { job: ['struts', 'loadCases'], from: [] }, ({ job }) =>
  job.struts.flatMap((strut): Finding[] => {
    const assumed = [...new Set(strut.spec.assumed ?? [])];
    const unstated = (strut.spec.unstated ?? []).filter((key) => !assumed.includes(key));
    if (assumed.length + unstated.length === 0) return [];
    const list = (keys: readonly (keyof typeof WORDS)[]): string =>
      `${keys.map((key) => WORDS[key]).join(', ')} ${keys.length === 1 ? 'is' : 'are'}`;
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
);
