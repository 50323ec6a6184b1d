import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Sheet } from '../../../core/drawing';
import { playNow } from '../../../core/find';
import { aboutOf, verdict } from '../../../core/findings';
import { type Job, readJob, resolveJob } from '../../../core/job';
import { fitUpChecklist, papersOf, report } from '../../../core/papers';
import { chartPart, roundTicks } from '../../../core/papers/chart';
import { reportCharts } from '../../../core/papers/report-charts';
import { shoppingRows } from '../../../core/papers/parts';
import { strengthPart } from '../../../core/papers/report-strength';
import { fitUpPlan } from '../../../core/prove';
import { workings, workingsOf } from '../../../core/workings';
import { sample } from '../../support/tier';
import { outside } from './inside';
import { collisions } from './overlap';

const example = (name: string): Job =>
  readJob(readFileSync(join(import.meta.dirname, `../../../assets/examples/${name}.lidjob`), 'utf8'));
const options = { date: '2026-11-25', program: 'Lidwright 9.9.9' };

const textsOf = (sheets: readonly Sheet[]): string[] =>
  sheets.flatMap((s) => s.parts.flatMap((p) => p.marks.flatMap((m) => (m.kind === 'text' ? [m.text] : []))));

function expectClean(sheets: readonly Sheet[]): void {
  sheets.forEach((sheet, i) => {
    expect(collisions(sheet), `page ${i + 1}`).toEqual([]);
    expect(outside(sheet), `page ${i + 1}`).toEqual([]);
    expect(textsOf([sheet])).toContain(`${i + 1}/${sheets.length}`);
  });
}

describe('report', () => {
  it('breaks over pages with 500 points and 20 load cases, and leaves nothing out', () => {
    const job = example('workboat-hatch');
    const extra = Array.from({ length: 500 - job.points.length }, (_, i) => ({
      id: `extra${i}`,
      name: i === 250 ? `A name as long as the format lets it be ${'and on '.repeat(22)}` : `Point number ${i}`,
      on: 'base' as const,
      at: [i, -i, 2 * i + 0.5] as [number, number, number],
    }));
    const cases = Array.from({ length: 20 }, (_, i) => ({
      ...job.loadCases[i % job.loadCases.length]!,
      id: `case${i}`,
      name: `Load case ${'Supercalifragilistic'.repeat(i % 3)} ${i}`,
    }));
    const many = resolveJob({ ...job, points: [...job.points, ...extra], loadCases: cases });
    const sheets = report(workings(many), options);
    expect(sheets.length).toBeGreaterThan(15);
    expectClean(sheets);
    const texts = textsOf(sheets);
    for (let i = 0; i < extra.length; i++) if (i !== 250) expect(texts).toContain(`Point number ${i}`);
    // coordinates of the last one
    expect(texts).toContain('−487');
    for (let i = 0; i < 20; i++) expect(texts.some((t) => t.endsWith(String(i)))).toBe(true);
    expect(texts.join(' ')).toContain('Lidwright 9.9.9');
  });

  it('holds every finding with its state and its reserve, the inputs, what was assumed and the cautions', () => {
    const outcome = workings(resolveJob(example('trailer-locker')));
    const sheets = report(outcome, options);
    expectClean(sheets);
    const words = textsOf(sheets).join(' ').replace(/\s+/g, '');
    for (const f of outcome.findings) {
      // what holds stands folded: its check's name and its numbers
      const said = f.state === 'holds' && f.caution !== true ? aboutOf(f.id).name : f.text.slice(0, 25);
      expect(words).toContain(said.replace(/\s+/g, ''));
      if (f.margin !== null) expect(words).toContain(String(Number(Math.abs(f.margin).toFixed(1))));
    }
    for (const given of outcome.job.givens ?? []) expect(words).toContain(given.name);
    for (const text of ['Whatwasassumed', 'Cautions', 'Loadcases', 'Masses', 'Statics']) expect(words).toContain(text);
    expect(words).toContain('Neverworkunderalidthatastrutaloneholds');
  });

  it('says how exactly the balls must be placed, the place sheet too where nothing fails', () => {
    const said = (raw: Job, ...ids: string[]): string[] => {
      const papers = papersOf(resolveJob(raw), workingsOf(raw), options);
      return ids.map((id) =>
        textsOf(papers.find((p) => p.id === id)!.draw())
          .join(' ')
          .replace(/\s+/g, ''),
      );
    };
    const { bothMm, baseMm, lidMm } = playNow(example('trailer-locker'))!;
    expect(bothMm).toBeGreaterThan(0);
    expect(Math.min(baseMm, lidMm)).toBeGreaterThanOrEqual(bothMm);
    for (const words of said(example('trailer-locker'), 'report', 'place-s1'))
      for (const mm of [bothMm, baseMm, lidMm]) expect(words).toContain(`by${mm.toFixed(1)}mm`);
    const failing = { ...example('trailer-locker'), limits: { handOpenN: 1, handCloseN: 1 } } as Job;
    expect(said(failing, 'place-s1')[0]).not.toContain('offtheirmarks');
  });
  it.each(sample(['workboat-hatch', 'machine-guard', 'trailer-locker']))(
    'begins with one page: sketch, verdict, five numbers, what to buy, cautions; and quotes nobody’s memory: %s',
    (name) => {
      const outcome = workings(resolveJob(example(name)));
      const sheets = report(outcome, { ...options, strength: strengthPart(outcome) });
      const first = textsOf([sheets[0]!]).join(' ');
      expect(first).toContain(verdict(outcome.findings).words);
      expect(sheets[0]!.parts.some((p) => p.name.startsWith('sketch'))).toBe(true);
      for (const text of ['The five numbers', 'What to buy', 'Keep a prop under the lid', 'before these figures'])
        expect(first).toContain(text);
      const opening = outcome.findings.filter((f) => f.id === 'hand-opening').map((f) => f.value ?? 0);
      expect(first).toContain(`${Math.round(Math.max(...opening))} N`);
      for (const row of shoppingRows(outcome.job))
        expect(first.replace(/\s/g, '')).toContain(row.order.replace(/\s/g, ''));
      expect(textsOf([sheets[1]!]).join(' ')).toContain('Findings:');
      expect(textsOf(sheets).join(' ')).not.toMatch(/from memory/i);
      expectClean(sheets);
    },
  );

  it('prints what was typed beside weight and limits, what is let go in every case, and what is left out with its reason', () => {
    const job = example('workboat-hatch');
    const told: Job = {
      ...job,
      hinge: { ...job.hinge, ratedN: 1500, overCentre: true },
      limits: { ...job.limits, letGoJ: 33, letGoN: 77 },
      seal: { forceN: 61, overMm: 7 },
      latch: { at: job.grip, ratedN: 444 },
      dismissed: [{ finding: 'asked', about: 'aged', reason: 'they are new every spring' }],
      loadCases: job.loadCases.map((c, i) =>
        i === 0 ? { ...c, accelG: [-0.8, 0, 0], wind: { ms: 18, towards: 'open' } } : c,
      ),
    };
    const outcome = workings(resolveJob(told));
    const sheets = report(outcome, options);
    expectClean(sheets);
    const words = textsOf(sheets).join(' ').replace(/\s+/g, '');
    for (const text of ['1500N', 'goover itsdeadcentre', '33J', '77N', '61N closed, none after 7mm', 'holds 444N'])
      expect(words).toContain(text.replace(/\s+/g, ''));
    for (const text of ['accelerates−0.8,0,0g', 'wind18m/s(Beaufort8),openingit', 'theyareneweveryspring'])
      expect(words).toContain(text);
    for (const { opening } of outcome.letGos)
      expect(words).toContain(`${Number(opening!.energyJ.toFixed(1))}J`.replace(/\.0J/, 'J'));
  });

  it('hatches in the let-go chart what the lid gains: strokes times their distance are the energy', () => {
    const outcome = workings(resolveJob(example('workboat-hatch')));
    const spec = reportCharts(outcome).find((c) => c.name === 'let-go')!;
    const [widthMm, plotMm] = [168, 46];
    const strokes = (areas: NonNullable<typeof spec.areas>): number[] => {
      const with_ = chartPart({ ...spec, areas }, widthMm, plotMm).marks;
      const without = new Set(chartPart({ ...spec, areas: [] }, widthMm, plotMm).marks.map((m) => JSON.stringify(m)));
      return with_.flatMap((m) =>
        m.kind === 'line' && !without.has(JSON.stringify(m)) ? [Math.abs(m.to[1] - m.from[1])] : [],
      );
    };
    // both areas stand on the same axes, so that their strokes are as their energies
    const hatch = (k: number): number => strokes([spec.areas![k]!]).reduce((sum, v) => sum + v, 0);
    const all = outcome.letGos.map((l) => [l.opening!.energyJ, l.shutting!.energyJ] as const);
    const [open, shut] = [Math.max(...all.map(([o]) => o)), Math.max(...all.map(([, s]) => s))];
    expect(hatch(1) / hatch(0)).toBeCloseTo(shut / open, 1);
    expect(spec.series.map((s) => s.name.split(':')[0])).toEqual([
      `opening, ${open.toFixed(0)} J`,
      `shutting, ${shut.toFixed(0)} J`,
    ]);
  });

  it('says that brackets were not checked where nobody checked them, and prints what was', () => {
    const outcome = workings(resolveJob(example('workboat-hatch')));
    expect(textsOf(report(outcome, options)).join(' ')).toContain('was not checked');
    const row = {
      ...{
        bracket: 'Base bracket',
        check: 'Stud, bending',
        demand: '120 N/mm²',
        capacity: '480 N/mm²',
        safetyFactor: 4,
      },
      ...{ state: 'holds' as const, where: 'case, 12°', source: 'a source' },
    };
    const strength = {
      rows: Array.from({ length: 90 }, () => row),
      told: ['Largest force'],
      assumed: ['M8 taken'],
      cautions: [],
    };
    const sheets = report(outcome, { ...options, strength });
    expectClean(sheets);
    const texts = textsOf(sheets);
    expect(texts.filter((t) => t === 'Stud, bending')).toHaveLength(2 * 90);
    expect(texts).toContain('M8 taken');
    const own = papersOf(outcome.job, outcome, options).find((p) => p.kind === 'report')!;
    const words = textsOf(own.draw()).join(' ');
    expect(words).not.toContain('was not checked.');
    expect(words).toContain('for shocks');
  });
});

describe('charts', () => {
  it('draw their values where the ticks say, with gaps where there is none', () => {
    const x = [0, 10, 20, 30, 40, 50];
    const y = [5, -20, NaN, 35, 80, 12.5];
    const part = chartPart(
      { name: 't', xTitle: 'x', yTitle: 'y', series: [{ name: 's', role: 'visible', x, y }] },
      150,
      40,
    );
    // scale from the ticks' own texts and places
    const ticks = part.marks.flatMap((m) => (m.kind === 'text' && /^−?[\d.]+$/.test(m.text) ? [m] : []));
    const value = (t: string): number => Number(t.replace('−', '-'));
    const up = ticks.filter((m) => m.anchor === 'end');
    const along = ticks.filter((m) => m.anchor === 'middle');
    const slope = (a: number, b: number, va: number, vb: number) => (at: number) =>
      va + ((at - a) / (b - a)) * (vb - va);
    const [u0, u1] = [up[0]!, up[up.length - 1]!];
    const toY = slope(u0.at[1] + 1.25, u1.at[1] + 1.25, value(u0.text), value(u1.text));
    const [a0, a1] = [along[0]!, along[along.length - 1]!];
    const toX = slope(a0.at[0], a1.at[0], value(a0.text), value(a1.text));
    const runs = part.marks.flatMap((m) => (m.kind === 'path' && !m.closed ? [m.segments] : []));
    expect(runs).toHaveLength(2);
    const drawn = runs.flatMap((segments) =>
      segments.flatMap((s, i) => (s.kind === 'line' ? (i === 0 ? [s.from, s.to] : [s.to]) : [])),
    );
    const known = x.map((v, i) => [v, y[i]!] as const).filter(([, v]) => Number.isFinite(v));
    drawn.forEach((p, i) => {
      expect(toX(p[0])).toBeCloseTo(known[i]![0], 6);
      expect(toY(p[1])).toBeCloseTo(known[i]![1], 6);
    });
  });
  it('have round ticks', () => {
    expect(roundTicks(-3, 97, 5)).toEqual([0, 20, 40, 60, 80]);
    expect(roundTicks(0, 0.9, 4).map((v) => Number(v.toFixed(9)))).toEqual([0, 0.5]);
  });
});

describe('fit-up checklist', () => {
  it('has every line of the fit-up plan with its predicted value and room to write', () => {
    const outcome = workings(resolveJob(example('workboat-hatch')));
    const sheets = fitUpChecklist(outcome, { date: '2026-11-25' });
    expectClean(sheets);
    const texts = textsOf(sheets);
    const words = texts.join(' ');
    for (const item of fitUpPlan(outcome.job)) {
      expect(words.replace(/\s/g, '')).toContain(item.what.replace(/\s/g, ''));
      if (item.predicted !== null) {
        const digits = item.unit === 'N' ? 0 : 1;
        const shown = String(Number(item.predicted.toFixed(digits))).replace('-', '−');
        expect(texts.some((t) => t.startsWith(shown))).toBe(true);
      }
    }
    expect(words).toContain('prop');
    expect(words).toContain('Measured');
  });
});

describe('the set of papers', () => {
  it('names no two alike, draws them all for the examples, and has none that needs an outcome without one', () => {
    for (const name of ['workboat-hatch', 'trailer-locker', 'machine-guard']) {
      const job = resolveJob(example(name));
      const papers = papersOf(job, workings(job), options);
      expect(new Set(papers.map((p) => p.id)).size).toBe(papers.length);
      for (const paper of papers) {
        const sheets = paper.draw();
        expect(sheets.length, paper.id).toBeGreaterThan(0);
        if (paper.kind !== 'cutting') for (const sheet of sheets) expect(collisions(sheet), paper.id).toEqual([]);
      }
      const kinds = papersOf(job, null, options).map((p) => p.kind);
      for (const kind of ['layout', 'report', 'checklist'] as const) expect(kinds).not.toContain(kind);
    }
  });
});
