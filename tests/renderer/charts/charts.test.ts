import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ResolvedJob, readJob, resolveJob } from '../../../core/job';
import { METRIC, type ShownUnits } from '../../../core/quantity';
import { workings } from '../../../core/workings';
import { lastKnown, placeLabels } from '../../../renderer/views/charts/labels';
import { chartModel, fillShown, letterOf, rangeOf } from '../../../renderer/views/charts/model';
import { followedLines, readoutText } from '../../../renderer/views/charts/readout';

const load = (path: string): ResolvedJob =>
  resolveJob(readJob(readFileSync(new URL(`../../../${path}.lidjob`, import.meta.url), 'utf8')));
const INCH: ShownUnits = { length: 'in', force: 'lbf', temperature: 'degF' };
const hatch = load('tests/fixtures/jobs/workboat-hatch');
const out = workings(hatch);

describe('chartModel', () => {
  it('has an opening and a closing line for each load case, told apart by dashes and tags', () => {
    const model = chartModel(out, 'hand', METRIC);
    expect(model.lines).toHaveLength(2 * hatch.loadCases.length);
    expect(new Set(model.lines.map((l) => `${l.tag} ${l.dash}`)).size).toBe(model.lines.length);
    expect(model.lines[1]!.values[10]).toBe(out.tables[0]!.handClosingN[10]);
    expect(model.bands.map((b) => b.from)).toEqual([hatch.limits.handOpenN, -hatch.limits.handCloseN]);
    expect(model.sign).toBe('N');
  });
  it('shades what the lid gains when it is let go: the area under the hand force, times the grip’s radius, is that energy', () => {
    const worst = hatch.loadCases.findIndex((c) => c.id === 'canister-off-hot');
    const model = chartModel(out, 'hand', METRIC);
    const [area] = model.areas;
    expect(area).toMatchObject({ line: 2 * worst, fromDeg: 0, toDeg: 70 });
    expect(area!.text).toContain('throws itself open with 116 J, 0° to 70°');
    const { values } = model.lines[area!.line]!;
    let sum = 0;
    for (let i = 1; i < values.length; i++)
      sum -= ((values[i]! + values[i - 1]!) / 2) * (model.angleDeg[i]! - model.angleDeg[i - 1]!) * (Math.PI / 180);
    expect((sum * out.frame.gripRadiusMm) / 1000).toBeCloseTo(out.letGos[worst]!.opening!.energyJ, 1);
    // the chosen case’s own; shutting runs back, and is shaded all the same from the lower angle on
    out.letGos.forEach(({ shutting }, c) => {
      const own = chartModel(out, 'hand', METRIC, undefined, [], hatch.loadCases[c]!.id).areas;
      const shuts = own.find((a) => a.line === 2 * c + 1);
      expect(shuts !== undefined).toBe(shutting!.energyJ >= 0.5);
      if (shuts) expect([shuts.fromDeg, shuts.toDeg]).toEqual([shutting!.toDeg, shutting!.fromDeg]);
    });
    expect(chartModel(out, 'force', METRIC).areas).toEqual([]);
  });
  it('shows in the units asked for (1 in = 25.4 mm, 1 lbf = 4.4482216152605 N, both exact by definition)', () => {
    const length = chartModel(out, 'length', INCH);
    expect(length.lines[0]!.values[5]).toBeCloseTo(out.tables[0]!.struts[0]!.lengthMm[5]! / 25.4, 9);
    expect(length.sign).toBe('in');
    const force = chartModel(out, 'force', INCH);
    expect(force.lines[0]!.values[5]).toBeCloseTo(out.tables[0]!.struts[0]!.extendingN[5]! / 4.4482216152605, 9);
  });
  it('shades the stroke, and 90° ± range of the joints', () => {
    const { spec, ends } = hatch.struts[0]!;
    expect(chartModel(out, 'length', METRIC).bands[0]).toMatchObject({
      from: spec.extendedMm - spec.strokeMm,
      to: spec.extendedMm,
    });
    const [band] = chartModel(out, 'joint', METRIC).bands;
    expect([band!.from, band!.to]).toEqual([90 - ends.base.rangeDeg, 90 + ends.base.rangeDeg]);
  });
  it('gives joints of different range a band each', () => {
    const strut = hatch.struts[0]!;
    const job = { ...hatch, struts: [{ ...strut, ends: { ...strut.ends, lid: { ...strut.ends.lid, rangeDeg: 10 } } }] };
    expect(chartModel(workings(job), 'joint', METRIC).bands.map((b) => b.to)).toEqual([108, 100]);
  });
  it('breaks lines where the strut can’t be there', () => {
    const short = { ...hatch, struts: [{ ...hatch.struts[0]!, spec: { ...hatch.struts[0]!.spec, extendedMm: 560 } }] };
    const broken = workings(short);
    const model = chartModel(broken, 'hand', METRIC);
    const compression = broken.tables[0]!.struts[0]!.compressionMm;
    expect(model.lines[0]!.values.some((v) => v === null)).toBe(true);
    model.lines[0]!.values.forEach((v, i) => expect(v === null).toBe(Number.isNaN(compression[i]!)));
    // the length is known all the same
    expect(chartModel(broken, 'length', METRIC).lines[0]!.values).not.toContain(null);
  });
  it('reuses its arrays while the lines stay the same, and only then', () => {
    const first = chartModel(out, 'hand', METRIC);
    const again = chartModel(workings(hatch), 'hand', METRIC, first);
    expect(again.key).toBe(first.key);
    expect(again.lines[3]!.values).toBe(first.lines[3]!.values);
    expect(again.angleDeg).toBe(first.angleDeg);
    expect(chartModel(out, 'hand', INCH, first).lines[3]!.values).not.toBe(first.lines[3]!.values);
    expect(chartModel(out, 'force', METRIC, first).key).not.toBe(first.key);
    const wider = chartModel(workings({ ...hatch, travel: { ...hatch.travel, openDeg: 80.5 } }), 'hand', METRIC, first);
    expect([wider.angleDeg.length, wider.lines[0]!.values.length, wider.angleDeg.at(-1)]).toEqual([82, 82, 80.5]);
  });
  it('names struts by letters where there are several', () => {
    const two = { ...hatch, struts: [hatch.struts[0]!, { ...hatch.struts[0]!, id: 's2', name: 'Second' }] };
    const model = chartModel(workings(two), 'force', METRIC);
    expect(model.lines.slice(0, 4).map((l) => `${l.tag} ${l.role}`)).toEqual([
      '1a extending',
      '1a compressing',
      '1a balance',
      '1b extending',
    ]);
    expect(model.lines[3]!.name).toContain('Second');
    expect([0, 25, 26, 27].map(letterOf)).toEqual(['a', 'z', 'aa', 'ab']);
  });
  it('stands on a job without struts', () => {
    const bare = workings({ ...hatch, struts: [], brackets: [] });
    for (const kind of ['hand', 'force', 'length', 'joint'] as const) {
      const model = chartModel(bare, kind, METRIC);
      expect(model.maxY).toBeGreaterThan(model.minY);
    }
  });
});

describe('rangeOf', () => {
  const line = (values: (number | null)[], scales = true) => ({ values, scales }) as never;
  it('holds every line and limit, and zero where asked', () => {
    const [low, high] = rangeOf([line([5, null, 9])], [{ from: -3, to: -3, text: '' }], true);
    expect(low).toBeLessThan(-3);
    expect(high).toBeGreaterThan(9);
    expect(rangeOf([line([5, 9])], [], true)[0]).toBe(0);
  });
  it('does not let a line that runs away set the scale', () => {
    const [low, high] = rangeOf([line([0, 100]), line([110, 1e9, -1e9], false)], [], false);
    expect(high).toBeLessThan(150);
    expect(high).toBeGreaterThan(110);
    expect(low).toBeGreaterThan(-50);
  });
  it('is a range even for nothing, or for one value', () => {
    expect(rangeOf([line([null])], [], false)).toEqual([0, 1]);
    const [low, high] = rangeOf([line([0, 0])], [], false);
    expect(high).toBeGreaterThan(low);
  });
});

describe('fillShown', () => {
  it('turns no number into nothing', () => {
    expect(fillShown([1, NaN, Infinity, -0.5], 'force', METRIC, [])).toEqual([1, null, null, -0.5]);
  });
});

describe('placeLabels', () => {
  const wish = fc.record({
    y: fc.double({ min: -50, max: 350, noNaN: true }),
    priority: fc.integer({ min: 0, max: 6 }),
  });
  it('keeps its distance, its bounds and the order of the lines', () => {
    fc.assert(
      fc.property(fc.array(wish, { maxLength: 40 }), (wanted) => {
        const placed = placeLabels(wanted, 12, 5, 300);
        for (let i = 0; i < placed.length; i++) {
          expect(placed[i]!.y).toBeGreaterThanOrEqual(5 - 1e-6);
          expect(placed[i]!.y).toBeLessThanOrEqual(300 + 1e-6);
          if (i === 0) continue;
          expect(placed[i]!.y - placed[i - 1]!.y).toBeGreaterThanOrEqual(12 - 1e-6);
          expect(wanted[placed[i]!.index]!.y).toBeGreaterThanOrEqual(wanted[placed[i - 1]!.index]!.y);
        }
        expect(placed).toHaveLength(Math.min(wanted.length, 25));
      }),
    );
  });
  it('leaves a label where it is when nothing is near, and shares the move when something is', () => {
    const placed = placeLabels(
      [
        { y: 100, priority: 0 },
        { y: 200, priority: 0 },
        { y: 204, priority: 0 },
      ],
      12,
      0,
      300,
    );
    expect(placed.map((p) => p.y)).toEqual([100, 196, 208]);
  });
  it('drops the least first, and what has no place at all', () => {
    const placed = placeLabels(
      [
        { y: 0, priority: 0 },
        { y: 1, priority: 5 },
        { y: NaN, priority: 9 },
      ],
      12,
      0,
      5,
    );
    expect(placed.map((p) => p.index)).toEqual([1]);
    expect(placeLabels([{ y: 0, priority: 0 }], 12, 5, 0)).toEqual([]);
  });
  it('finds the last value there is', () => {
    expect(lastKnown([1, 2, null])).toBe(1);
    expect(lastKnown([null])).toBe(-1);
  });
});

describe('readout', () => {
  it('gives the values of the chosen load case at the angle, and says where they can’t be', () => {
    const model = chartModel(out, 'hand', METRIC);
    const i = 35;
    const text = readoutText(model, METRIC, 'cold', i);
    const k = hatch.loadCases.findIndex((c) => c.id === 'cold');
    const opening = Math.round(out.tables[k]!.handOpeningN[i]!);
    expect(text).toBe(
      `θ 35.0° · Winter morning, weak strut: opening ${opening} N, closing ${Math.round(out.tables[k]!.handClosingN[i]!)} N`.replace(
        /-/g,
        '−',
      ),
    );
    expect(readoutText(model, METRIC, null, 500)).toContain('not known here');
  });
  it('follows the first case when none is chosen, and every strut where cases make no difference', () => {
    expect(followedLines(chartModel(out, 'hand', METRIC), null).map((l) => l.caseId)).toEqual(['normal', 'normal']);
    expect(followedLines(chartModel(out, 'joint', METRIC), 'cold')).toHaveLength(2);
    expect(readoutText(chartModel(out, 'length', INCH), INCH, 'cold', 0)).toMatch(
      /^θ 0\.0° · The strut: 14\.\d{3} in$/,
    );
  });
});
