// Adds up what the suites say of themselves. A suite that ran nothing, or ended badly without naming a failure, counts
// as one failure: silence must not pass for success.

/**
 * @typedef {{ passed: number, failed: number, skipped: number, remarks: string[] }} Count
 */

/** From vitest's JSON. A file that could not even be loaded counts as one failure. @returns {Count} */
export function countVitest(json) {
  const broken = (json.testResults ?? []).filter(
    (file) => file.status === 'failed' && !(file.assertionResults ?? []).some((test) => test.status === 'failed'),
  );
  return {
    passed: json.numPassedTests ?? 0,
    failed: (json.numFailedTests ?? 0) + broken.length,
    skipped: (json.numPendingTests ?? 0) + (json.numTodoTests ?? 0),
    remarks: broken.map((file) => `${file.name} could not be run`),
  };
}

/** From Playwright's JSON. Errors outside any test count as one failure. @returns {Count} */
export function countPlaywright(json) {
  const { expected = 0, unexpected = 0, flaky = 0, skipped = 0 } = json.stats ?? {};
  const outside = (json.errors ?? []).length;
  return {
    passed: expected + flaky,
    failed: unexpected + (outside > 0 ? 1 : 0),
    skipped,
    remarks: [
      ...(flaky > 0 ? [`${flaky} passed only when tried again`] : []),
      ...(outside > 0 ? [`${outside} error(s) outside any test`] : []),
    ],
  };
}

/**
 * One stage's outcome, with the silent failures added.
 * @param {{ code: number | null, count: Count | null }} ended count null: it left no report
 * @returns {Count}
 */
export function judgeSuite({ code, count }) {
  if (count === null)
    return { passed: 0, failed: 1, skipped: 0, remarks: [`it ended (${code ?? 'killed'}) without leaving a report`] };
  const remarks = [...count.remarks];
  let { failed } = count;
  if (count.passed + failed === 0) {
    failed += 1;
    remarks.push('it ran no tests');
  } else if (code !== 0 && failed === 0) {
    failed += 1;
    remarks.push(`every test passed, but it ended with ${code ?? 'a signal'}`);
  }
  return { ...count, failed, remarks };
}

/** One line a stage, for the summary. */
export function stageLine({ name, count, seconds, skippedWhy }) {
  const label = name.padEnd(10);
  if (skippedWhy) return `  ${label} SKIPPED   ${skippedWhy}`;
  const state = count.failed > 0 ? 'FAILED ' : 'passed ';
  const parts = [`${count.passed} passed`];
  if (count.failed > 0) parts.push(`${count.failed} failed`);
  if (count.skipped > 0) parts.push(`${count.skipped} skipped`);
  return `  ${label} ${state}   ${parts.join(', ')} (${seconds.toFixed(1)} s)${count.remarks.map((remark) => `\n             ${remark}`).join('')}`;
}

/** The last line, and the exit code that goes with it. */
export function lastLine(counts) {
  const passed = counts.reduce((sum, count) => sum + count.passed, 0);
  const failed = counts.reduce((sum, count) => sum + count.failed, 0);
  return { line: `${passed} passed, ${failed} failed`, code: failed > 0 || passed === 0 ? 1 : 0 };
}
