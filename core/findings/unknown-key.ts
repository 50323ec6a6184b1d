import { type Finding, check } from './finding';

/** Most that are told one by one. */
const MOST_TOLD = 20;

/** unknown-key: keys of the file that nothing here reads. One that is like a known key is probably that, misspelt. */
export const unknownKey = check('unknownKey', { job: ['loadCases'], from: ['strange'] }, ({ job, strange }) => {
  const finding = (state: 'watch' | 'holds', text: string, advice: string): Finding => ({
    ...{ id: 'unknown-key', case: job.loadCases[0]!.id, everyCase: true, subject: 'job', state },
    ...{ value: null, limit: null, margin: null, unit: '', worstDeg: null, text, advice },
  });
  const like = strange.filter(({ meant }) => meant !== null);
  const others = strange.filter(({ meant }) => meant === null);
  const told = like
    .slice(0, MOST_TOLD)
    .map(({ key, within, meant }) =>
      finding(
        'watch',
        `“${key}” in ${within} is read by nothing here; probably “${meant}” is meant.`,
        'Rename it in the file, or take it out. Until then it is kept, and counts for nothing.',
      ),
    );
  const more = like.length - told.length;
  if (more > 0)
    told.push(
      finding(
        'watch',
        `${more} more keys are read by nothing here and are like known ones.`,
        'Mend those above first.',
      ),
    );
  if (others.length > 0) {
    const named = others.slice(0, 3).map(({ key, within }) => `“${key.slice(0, 40)}” in ${within}`);
    const rest = others.length - named.length;
    told.push(
      finding(
        'holds',
        `${others.length === 1 ? 'One key is' : `${others.length} keys are`} kept and written back as they were, though nothing here reads them: ${named.join(', ')}${rest > 0 ? ` and ${rest} more` : ''}.`,
        '',
      ),
    );
  }
  return told;
});
