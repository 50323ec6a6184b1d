import { type Finding, check, strutName } from './finding';

const WORDS = { ratio: 'force ratio', frictionN: 'friction', toleranceN: 'tolerance' } as const;

/** assumed-values: numbers of a strut that nobody stated and common practice stands in for. */
export const assumedValues = check('assumedValues', { job: ['struts', 'loadCases'], from: [] }, ({ job }) =>
  job.struts.flatMap((strut): Finding[] => {
    const assumed = [...new Set(strut.spec.assumed ?? [])];
    if (assumed.length === 0) return [];
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
        text: `${strutName(job, strut.id)}: ${assumed.map((key) => WORDS[key]).join(', ')} ${assumed.length === 1 ? 'is' : 'are'} assumed (common practice), and every force that follows with ${assumed.length === 1 ? 'it' : 'them'}.`,
        advice: 'Ask the supplier for the numbers, or look at what the ends of their usual range would give.',
      },
    ];
  }),
);
