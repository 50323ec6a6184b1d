// What stands on the purchase sheet is what the job says, nothing runs into anything else, and every figure of the
// picture is the real length.
import { describe, expect, it } from 'vitest';
import {
  type DimensionMark,
  type Mark,
  dimensionValue,
  explode,
  textBox,
  unknownLetters,
  writeSvg,
} from '../../../core/drawing';
import { type Job, type ResolvedJob, resolveJob } from '../../../core/job';
import { paperFormats, papersOf, purchaseSheet } from '../../../core/papers';
import { type Workings, workings } from '../../../core/workings';
import { exampleFiles, jobAt } from '../../support/files';
import { refusal } from '../../support/refusal';
import { collisions } from './overlap';

const date = '2026-11-25';
const boxes = (marks: readonly Mark[]) =>
  explode(marks).flatMap((m) => (m.kind === 'text' ? [{ text: m.text, corners: textBox(m) }] : []));
const texts = (job: ResolvedJob, id = job.struts[0]!.id): string[] =>
  purchaseSheet(job, id, { date }).parts.flatMap((p) => boxes(p.marks).map((t) => t.text));

it('says first of all what stands against ordering, as the set draws it', () => {
  const paperOf = (job: ResolvedJob, outcome: Workings | null, kind = 'purchase'): string => {
    const paper = papersOf(job, outcome, { date, program: 'test' }).find((p) => p.kind === kind)!;
    return paper
      .draw()
      .flatMap((s) => s.parts.flatMap((p) => boxes(p.marks).map((t) => t.text)))
      .join(' ');
  };
  const hatch = resolveJob(jobAt('tests/fixtures/jobs/workboat-hatch.lidjob'));
  const failing = workings(hatch);
  expect(failing.findings.some((f) => f.state === 'fails')).toBe(true);
  expect(paperOf(hatch, failing)).toContain('NOT READY TO ORDER when this was drawn. Not yet: 2 things fail');
  expect(paperOf(hatch, failing, 'shopping')).toContain('NOT READY TO ORDER');
  expect(paperOf(hatch, failing, 'place')).toContain('NOT READY TO DRILL');
  expect(paperOf(hatch, null)).toContain('The job can’t be worked out');
  const asked = ['aged', 'wind'].map((about) => ({ finding: 'asked', about, reason: 'in harbour only' }));
  const wide = { handOpenN: 1e4, handCloseN: 1e4, reserveMm: 0, holdOpenNm: 0, clearanceMm: 0 };
  const ends = (end: ResolvedJob['struts'][number]['ends']['base']) => ({ ...end, rangeDeg: 89 });
  const struts = hatch.struts.map((s) => ({ ...s, ends: { base: ends(s.ends.base), lid: ends(s.ends.lid) } }));
  const good = { ...hatch, struts, limits: { ...hatch.limits, ...wide }, dismissed: asked };
  expect(
    workings(good)
      .findings.filter((f) => ['fails', 'unknown'].includes(f.state))
      .map((f) => f.text),
  ).toEqual([]);
  for (const kind of ['purchase', 'shopping', 'place'])
    expect(paperOf(good, workings(good), kind), kind).not.toContain('NOT READY');
});

describe.each(exampleFiles())('%s', (file) => {
  const job = resolveJob(jobAt(file));
  const strut = job.struts[0]!;
  const sheet = purchaseSheet(job, strut.id, { date });
  it('says what to order: every number of the spec, quantity, ends, temperatures', () => {
    const all = texts(job).join(' ');
    const { spec } = strut;
    for (const word of [
      `${spec.extendedMm} mm`,
      `${spec.strokeMm} mm`,
      `${spec.rodMm} / ${spec.tubeMm} mm`,
      `${spec.forceN} N`,
      String(spec.ratio),
      strut.quantity === 2 ? '2 (a pair, alike)' : 'Quantity',
      'End fitting, base side',
      'End fitting, lid side',
    ])
      expect(all).toContain(word);
    const temps = job.loadCases.map((c) => c.tempC);
    expect(all).toContain(`+${Math.max(...temps)} °C`);
    expect(all).toContain(`${spec.forceN + spec.toleranceN[0]} N to ${spec.forceN + spec.toleranceN[1]} N`);
    expect(all).toMatch(/never open, heat, drill/);
    expect(all).toContain('Purchase sheet');
    expect(all).not.toContain('break edges');
  });
  it('figures of the picture are the real lengths', () => {
    const dims = sheet.parts.flatMap((p) => p.marks.filter((m): m is DimensionMark => m.kind === 'dimension'));
    const value = (id: string) => dimensionValue(dims.find((d) => d.id === id)!);
    expect(value('extended-length')).toBeCloseTo(strut.spec.extendedMm, 6);
    expect(value('stroke')).toBeCloseTo(strut.spec.strokeMm, 6);
    expect(value('compressed-length')).toBeCloseTo(strut.spec.extendedMm - strut.spec.strokeMm, 6);
  });
  it('stays inside the frame, in letters the font has, without texts on texts or lines through texts', () => {
    const { space } = paperFormats.A4;
    for (const part of sheet.parts) {
      if (part.name === 'frame') continue;
      for (const { text, corners } of boxes(part.marks)) {
        expect(unknownLetters(text), text).toEqual([]);
        for (const [x, y] of corners) {
          expect(x).toBeGreaterThan(space.left);
          expect(x).toBeLessThan(space.right);
          expect(y).toBeGreaterThan(space.bottom);
          expect(y).toBeLessThan(space.top);
        }
      }
    }
    expect(collisions(sheet)).toEqual([]);
  });
  it('is the same every time', () => {
    expect(writeSvg(purchaseSheet(job, strut.id, { date }))).toBe(writeSvg(sheet));
  });
});

describe('purchase sheet', () => {
  const job = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
  it('says which numbers are assumed, and asks for them', () => {
    const assumed = {
      ...job,
      struts: [{ ...job.struts[0]!, spec: { ...job.struts[0]!.spec, assumed: ['ratio', 'toleranceN'] } }],
    } as Job;
    const all = texts(resolveJob(assumed)).join(' ');
    expect(all).toContain('ask the supplier before you order');
    expect(all).toMatch(/assumed \(common practice\)/);
    expect(texts(resolveJob(job)).join(' ')).not.toMatch(/assumed/);
  });
  it('refuses a strut that is not there', () => {
    expect(refusal(() => purchaseSheet(resolveJob(job), 'none', { date })).what).toContain('"none"');
  });
});
