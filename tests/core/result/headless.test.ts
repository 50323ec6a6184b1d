// The golden jobs through the headless command, as somebody else's script would run it.
import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { sample } from '../../support/tier';
import { filePath, fileText, goldenFiles } from '../../support/files';
import { type GoldenResult, goldenDifferences } from '../../support/golden';

const run = (...args: string[]): { status: number | null; stdout: string; stderr: string } =>
  spawnSync(process.execPath, [filePath('scripts/lidwright.mjs'), ...args], {
    encoding: 'utf8',
    maxBuffer: 1e9,
  });

describe('lidwright check --json', () => {
  it.each(sample(goldenFiles()))('%s agrees in every field', (file) => {
    const { status, stdout, stderr } = run('check', filePath(file), '--json');
    expect([0, 1], stderr).toContain(status);
    const result = JSON.parse(stdout) as GoldenResult & { findings: { state: string }[] };
    const golden = JSON.parse(fileText(file.replace('.lidjob', '.result.json'))) as GoldenResult;
    expect(goldenDifferences(result, golden)).toEqual([]);
    expect(status).toBe(result.findings.some((f) => f.state === 'fails') ? 1 : 0);
  });
});
