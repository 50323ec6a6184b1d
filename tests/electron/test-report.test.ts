import { describe, expect, it } from 'vitest';
import { script } from './scripts';

const { countPlaywright, countVitest, judgeSuite, lastLine, stageLine } = await script('test-report.mjs');
const count = (passed: number, failed: number) => ({ passed, failed, skipped: 0, remarks: [] as string[] });

describe('adding up the suites', () => {
  it('counts vitest’s tests, and a file that could not be run as one failure', () => {
    expect(
      countVitest({
        numPassedTests: 5,
        numFailedTests: 1,
        numPendingTests: 2,
        testResults: [
          { name: 'a', status: 'failed', assertionResults: [{ status: 'failed' }] },
          { name: 'b', status: 'failed', assertionResults: [] },
          { name: 'c', status: 'passed', assertionResults: [{ status: 'passed' }] },
        ],
      }),
    ).toEqual({ passed: 5, failed: 2, skipped: 2, remarks: ['b could not be run'] });
  });

  it('counts Playwright’s tests, and errors outside any as one failure', () => {
    expect(countPlaywright({ stats: { expected: 3, unexpected: 1, flaky: 1, skipped: 2 }, errors: [] })).toMatchObject({
      passed: 4,
      failed: 1,
      skipped: 2,
    });
    expect(countPlaywright({ stats: { expected: 0 }, errors: [{}, {}] })).toMatchObject({ passed: 0, failed: 1 });
  });

  it('a silent suite is a failed suite', () => {
    expect(judgeSuite({ code: 0, count: null })).toMatchObject({ failed: 1 });
    expect(judgeSuite({ code: 0, count: count(0, 0) })).toMatchObject({ failed: 1, remarks: ['it ran no tests'] });
    expect(judgeSuite({ code: 1, count: count(4, 0) })).toMatchObject({ passed: 4, failed: 1 });
    expect(judgeSuite({ code: null, count: count(4, 0) })).toMatchObject({ failed: 1 });
    expect(judgeSuite({ code: 1, count: count(4, 2) })).toMatchObject({ passed: 4, failed: 2 });
    expect(judgeSuite({ code: 0, count: count(4, 0) })).toMatchObject({ passed: 4, failed: 0 });
  });

  it('the last line adds all of it up, and the exit code says the same', () => {
    expect(lastLine([count(3, 0), count(4, 0)])).toEqual({ line: '7 passed, 0 failed', code: 0 });
    expect(lastLine([count(3, 1), count(4, 0)])).toEqual({ line: '7 passed, 1 failed', code: 1 });
    expect(lastLine([])).toEqual({ line: '0 passed, 0 failed', code: 1 });
  });

  it('a stage’s line says passed, failed or skipped in words', () => {
    expect(stageLine({ name: 'unit', count: count(3, 0), seconds: 1 })).toMatch(/unit +passed +3 passed \(1\.0 s\)/);
    expect(stageLine({ name: 'unit', count: count(3, 2), seconds: 1 })).toMatch(/FAILED +3 passed, 2 failed/);
    expect(stageLine({ name: 'window', skippedWhy: 'no display' })).toMatch(/SKIPPED +no display/);
  });
});
