import { type Finding, check } from './finding';
import { bracketStem } from './bracket-stem';

/** bracket: whether it can be made as drawn, and whether it stands as its strut end does. */
export const bracketShape = check(
  'bracketShape',
  { job: ['brackets', 'struts', 'points', 'loadCases'], from: ['issues'] },
  ({ job, issues }) =>
    job.brackets.flatMap((bracket, i): Finding[] => {
      const name = bracket.name ?? bracket.id;
      const common = {
        case: job.loadCases[0]!.id,
        everyCase: true,
        subject: bracket.id,
        value: null,
        limit: null,
        margin: null,
        unit: '',
        worstDeg: null,
      } as const;
      const found = issues[i]!.map((issue): Finding => ({
        id: `bracket-${issue.id}`,
        state: issue.severity,
        text: `${name}: ${issue.what}${/[.!]$/.test(issue.what) ? '' : '.'}`,
        advice: issue.advice,
        ...common,
      }));
      const end = job.struts.find((s) => s.id === bracket.strut)?.ends[bracket.end];
      if (end && !end.mount)
        found.push({
          id: 'bracket-mount',
          state: 'watch',
          text: `${name} stands on no mount: the ${bracket.end} end stands on no mount, so its azimuth is not known.`,
          advice: 'Put that end on a mount (Joints).',
          ...common,
        });
      else if (end) {
        const askew = issues[i]!.some((issue) => issue.severity === 'fails') ? null : bracketStem(job, bracket, name);
        if (askew) found.push({ ...common, ...askew });
      }
      return found.length > 0
        ? found
        : [
            {
              id: 'bracket',
              state: 'holds',
              text: `${name} can be made as drawn.`,
              advice: '',
              ...common,
            },
          ];
    }),
);
