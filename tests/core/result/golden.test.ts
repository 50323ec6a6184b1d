// Every field of the golden results (computed elsewhere, see tests/fixtures/golden/README.md) against checkJob.
import { describe, expect, it } from 'vitest';
import { checkJob } from '../../../core/result';
import { fileText, goldenFiles, jobAt, secondGoldenFiles } from '../../support/files';
import { type GoldenResult, goldenDifferences, secondGoldenDifferences } from '../../support/golden';

const golden = (file: string): GoldenResult =>
  JSON.parse(fileText(file.replace('.lidjob', '.result.json'))) as GoldenResult;
const files = goldenFiles();

describe('golden jobs', () => {
  it('are all there', () => expect(files).toHaveLength(4));
  it.each(files)('%s agrees in every field', (file) => {
    expect(goldenDifferences(checkJob(jobAt(file)) as unknown as GoldenResult, golden(file))).toEqual([]);
  });
  it('would notice a wrong field: each spoilt in turn is named', () => {
    const file = files[0]!;
    const right = golden(file);
    const spoil = (edit: (r: GoldenResult) => void): string[] => {
      const wrong = JSON.parse(JSON.stringify(right)) as GoldenResult;
      edit(wrong);
      return goldenDifferences(wrong, right);
    };
    expect(spoil(() => undefined)).toEqual([]);
    const at = (r: GoldenResult) => r.cases[1]!;
    const row = (holder: Record<string, unknown>, name: string) => holder[name] as (number | number[])[];
    for (const name of Object.keys(right.cases[0]!.travel)) {
      if (name === 'struts' || name === 'balanceAlikeN') continue;
      const said = spoil((r) => {
        const values = row(at(r).travel, name);
        const old = values[3] as number | number[];
        values[3] = Array.isArray(old) ? [old[0]! + 1, old[1]!, old[2]!] : old + 1;
      });
      expect(said, name).toHaveLength(1);
      expect(said[0]).toContain(name);
    }
    for (const name of Object.keys(right.cases[0]!.travel.struts[0]!)) {
      if (name === 'id') continue;
      const said = spoil((r) => {
        const values = row(at(r).travel.struts[0] as unknown as Record<string, unknown>, name);
        values[7] = (values[7] as number) * 1.001 + 0.1;
      });
      expect(said.length, name).toBe(1);
    }
    // a number where nothing can be, and the other way round
    expect(spoil((r) => void (row(at(r).travel, 'handOpeningN')[80] = 0))).toHaveLength(1);
    expect(spoil((r) => void ((at(r).travel['handOpeningN'] as unknown[])[2] = null))).toHaveLength(1);
  });
});

describe('golden jobs, second set', () => {
  const second = secondGoldenFiles();
  it('are all there', () => expect(second).toHaveLength(9));
  it.each(second)('%s agrees in every field', (file) => {
    expect(secondGoldenDifferences(checkJob(jobAt(file)), golden(file))).toEqual([]);
  });
  it('would notice a wrong field: each spoilt in turn is named', () => {
    const right = golden(second[0]!) as unknown as { cases: Record<string, Record<string, unknown>>[] };
    const spoil = (edit: (c: Record<string, Record<string, unknown>>) => void): string[] => {
      const wrong = structuredClone(right);
      edit(wrong.cases[1]!);
      return secondGoldenDifferences(wrong, right);
    };
    expect(spoil(() => undefined)).toEqual([]);
    for (const row of ['sealNm', 'windNm', 'openingMomentNm', 'closingMomentNm', 'handOpeningN'])
      expect(
        spoil((c) => void ((c['travel']![row] as number[])[3]! += 1e-3)),
        row,
      ).toHaveLength(1);
    for (const [key, by] of Object.entries({ openingJ: 1, openingFromDeg: 3, shuttingToDeg: 3, gripAtShutN: 0.1 }))
      expect(
        spoil((c) => void (c['letGo']![key] = (c['letGo']![key] as number) + by)),
        key,
      ).toHaveLength(1);
    expect(spoil((c) => void ((c as Record<string, unknown>)['latchN'] = 1))).toHaveLength(1);
  });
});
