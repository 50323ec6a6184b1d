// Named edits: each does its one thing, writes into nothing it was given, and can be undone byte for byte.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as edits from '../../../core/job';
import { type History, type Job, type JobBracket, type JobPhoto, type JobStrut, writeJob } from '../../../core/job';
import { checkJob } from '../../../core/result';
import { exampleFiles, jobAt } from '../../support/files';
import { deepFreeze } from '../../support/freeze';
import { refusal } from '../../support/refusal';
import { runs } from '../../support/tier';

const boat = deepFreeze(jobAt('tests/fixtures/jobs/workboat-hatch.lidjob'));
const locker = deepFreeze(jobAt('assets/examples/trailer-locker.lidjob'));
const photo = (id: string): JobPhoto =>
  ({
    id,
    view: 'side',
    source: { beside: 'hatch.jpg' },
    widthPx: 800,
    heightPx: 600,
    anchorPx: [1, 2],
    anchorMm: [3, 4],
  }) as unknown as JobPhoto;
const bracket = (id: string): JobBracket => ({ ...boat.brackets![0]!, id });

/** What of a job's sections differs between two jobs. */
const changed = (a: Job, b: Job): string[] =>
  [...new Set([...Object.keys(a), ...Object.keys(b)])].filter(
    (k) => JSON.stringify(a[k as keyof Job]) !== JSON.stringify(b[k as keyof Job]),
  );

describe('movePoint', () => {
  it('moves that point and nothing else', () => {
    const next = edits.movePoint(boat, { id: 's1-lid', at: [-280.5, -511, 370] });
    expect(changed(boat, next)).toEqual(['points']);
    expect(next.points.find((p) => p.id === 's1-lid')!.at).toEqual([-280.5, -511, 370]);
    expect(next.points.filter((p, i) => p !== boat.points[i])).toHaveLength(1);
  });
  it('keeps coordinates to a thousandth of a millimetre', () => {
    expect(
      edits.movePoint(boat, { id: 'grip', at: [1.23456789, 2.0004, -3.0006] }).points.find((p) => p.id === 'grip')!.at,
    ).toEqual([1.235, 2, -3.001]);
  });
  it('gives the very same job when nothing moves', () => {
    const at = boat.points.find((p) => p.id === 'grip')!.at as [number, number, number];
    expect(edits.movePoint(boat, { id: 'grip', at })).toBe(boat);
    expect(edits.movePoint(boat, { id: 'grip', at: [at[0] + 1e-9, at[1], at[2]] })).toBe(boat);
  });
  it('leaves a coordinate that a given or an expression holds', () => {
    const next = edits.movePoint(locker, { id: 'grip', at: [1, 2, 3] });
    const old = locker.points.find((p) => p.id === 'grip')!;
    expect(edits.heldCoordinates(old)).toEqual([true, true, false]);
    expect(next.points.find((p) => p.id === 'grip')!.at).toEqual([old.at[0], old.at[1], 3]);
  });
  it('refuses what is no number, and a point that is not there', () => {
    refusal(() => edits.movePoint(boat, { id: 'grip', at: [NaN, 0, 0] }));
    refusal(() => edits.movePoint(boat, { id: 'grip', at: [0, Infinity, 0] }));
    refusal(() => edits.movePoint(boat, { id: 'gone', at: [0, 0, 0] }));
  });
});

describe('removing', () => {
  it.each([
    ['hingeA', /the hinge/],
    ['grip', /the grip/],
    ['c2', /the outline/],
    ['cg-canister', /mass "Life-raft canister"/],
    ['s1-base', /strut "s1"/],
  ])('the point %s that something uses is refused, and says by what', (id, wanted) => {
    const error = refusal(() => edits.removePoint(boat, { id }));
    expect(error.what).toMatch(wanted);
    expect(error.where[0]).toBe('points');
  });
  it('a point that nothing uses goes', () => {
    const more = edits.addPoint(boat, { id: 'spare', name: 'Spare', on: 'lid', at: [1, 2, 3] });
    expect(edits.usesOfPoint(more, 'spare')).toEqual([]);
    expect(edits.removePoint(more, { id: 'spare' })).toEqual(boat);
  });
  it('a mass goes with its mention in load cases and its own point', () => {
    const next = edits.removeMass(boat, { id: 'canister' });
    expect(next.masses.map((m) => m.id)).toEqual(['panel', 'cradle']);
    expect(next.loadCases.every((c) => !c.off?.includes('canister'))).toBe(true);
    expect(next.points.some((p) => p.id === 'cg-canister')).toBe(false);
    expect(() => checkJob(next)).not.toThrow();
  });
  it('a mass whose point something else uses leaves the point', () => {
    const shared = edits.setValue(boat, { path: ['masses', 2, 'at'], value: 'cg-canister' });
    expect(edits.removeMass(shared, { id: 'canister' }).points.some((p) => p.id === 'cg-canister')).toBe(true);
  });
  it('a strut goes with its brackets and its points', () => {
    const next = edits.removeStrut(boat, { id: 's1' });
    expect(next.struts).toEqual([]);
    expect(next.brackets).toEqual([]);
    expect(next.points.some((p) => p.id.startsWith('s1-'))).toBe(false);
    expect(() => checkJob(next)).not.toThrow();
  });
  it('the last load case stays', () => {
    const one = { ...boat, loadCases: boat.loadCases.slice(0, 1) };
    expect(refusal(() => edits.removeLoadCase(one, { id: 'normal' })).what).toMatch(/last load case/);
  });
  it.each(['points', 'masses', 'struts', 'loadCases', 'photos', 'brackets'] as const)(
    'from %s, what is not there is refused by name',
    (section) => {
      const one = {
        points: 'removePoint',
        masses: 'removeMass',
        struts: 'removeStrut',
        loadCases: 'removeLoadCase',
        photos: 'removePhoto',
        brackets: 'removeBracket',
      } as const;
      expect(refusal(() => edits[one[section]](boat, { id: 'gone' })).what).toMatch(/"gone"/);
    },
  );
});

describe('adding and setting', () => {
  it('a mass comes with a lid point of its own; ids never clash', () => {
    let job = boat;
    for (let i = 0; i < 3; i++) job = edits.addMass(job, { name: 'Light', kg: 1 + i, at: [10 * i, 2, 3] });
    expect(job.masses.slice(3).map((m) => m.id)).toEqual(['mass', 'mass2', 'mass3']);
    expect(new Set(job.points.map((p) => p.id)).size).toBe(job.points.length);
    expect(() => checkJob(job)).not.toThrow();
  });
  it('a mass is switched off and on again in one load case', () => {
    const off = edits.setMassOff(boat, { loadCase: 'cold', mass: 'panel', off: true });
    expect(off.loadCases[1]!.off).toEqual(['panel']);
    expect(edits.setMassOff(off, { loadCase: 'cold', mass: 'panel', off: true }).loadCases[1]!.off).toEqual(['panel']);
    expect(writeJob(edits.setMassOff(off, { loadCase: 'cold', mass: 'panel', off: false }))).toBe(writeJob(boat));
  });
  it('a mount turns; a bare stem has none to turn', () => {
    const turned = edits.turnMount(boat, { strut: 's1', end: 'base', azimuthDeg: 41, tiltDeg: -3 });
    expect(turned.struts[0]!.ends.base).toMatchObject({ azimuthDeg: 41, tiltDeg: -3, rangeDeg: 18 });
    expect(edits.turnMount(boat, { strut: 's1', end: 'base', azimuthDeg: 41 }).struts[0]!.ends.base).toMatchObject({
      azimuthDeg: 41,
      tiltDeg: 0,
    });
    expect(refusal(() => edits.turnMount(boat, { strut: 's1', end: 'lid', azimuthDeg: 1 })).what).toMatch(/no mount/);
  });
  it('a bare stem is put on a mount, and the mount goes for a bare stem; other keys stay', () => {
    const standing = edits.standOnMount(boat, {
      strut: 's1',
      end: 'lid',
      normal: [0, 0, 1],
      reference: [1, 2, 0],
      azimuthDeg: 12,
      tiltDeg: 3,
    });
    expect(standing.struts[0]!.ends.lid).toEqual({
      fitting: 'ball-stud',
      rangeDeg: 18,
      mount: { normal: [0, 0, 1], reference: [1, 2, 0] },
      azimuthDeg: 12,
      tiltDeg: 3,
    });
    expect(() => checkJob(standing)).not.toThrow();
  });
  it('setValue gives the very same job when nothing changes, and takes a key away for undefined', () => {
    expect(edits.setValue(boat, { path: ['hinge', 'frictionNm'], value: 2 })).toBe(boat);
    const without = edits.setValue(boat, { path: ['hinge', 'frictionNm'], value: undefined });
    expect('frictionNm' in without.hinge).toBe(false);
    expect(edits.setValue(without, { path: ['hinge', 'frictionNm'], value: undefined })).toBe(without);
    expect(edits.valueAt(boat, ['struts', 0, 'spec', 'forceN'])).toBe(900);
    expect(edits.valueAt(boat, ['struts', 9, 'spec', 'forceN'])).toBeUndefined();
  });
  it('a photo with the id of another takes its place', () => {
    const two = edits.addPhoto(edits.addPhoto({ ...boat, photos: [] }, { photo: photo('a') }), { photo: photo('b') });
    expect(
      edits.addPhoto(two, { photo: { ...photo('a'), name: 'New' } as JobPhoto }).photos!.map((p) => p.name),
    ).toEqual([undefined, 'New']);
    expect(edits.setPhoto(two, { id: 'b', patch: { opacity: 0.4 } as Partial<JobPhoto> }).photos![1]).toMatchObject({
      id: 'b',
      opacity: 0.4,
    });
  });
});

/** One random named edit; null where it can't be done on this job (that is tested above). */
type Move = (job: Job) => Job;
const some = <T>(list: readonly T[], n: number): T | undefined => list[n % Math.max(1, list.length)];
const move: fc.Arbitrary<Move> = fc.tuple(fc.nat(15), fc.nat(), fc.integer({ min: -90_000, max: 90_000 })).map(([kind, n, raw]): Move => {
  const mm = raw / 100;
  return (job) => {
    switch (kind) {
      case 0: return edits.movePoint(job, { id: some(job.points, n)!.id, at: [mm, mm / 3, -mm / 7] });
      case 1: return edits.setValue(job, { path: ['travel', 'openDeg'], value: 20 + Math.abs(mm) / 10 });
      case 2: return edits.addMass(job, { name: `Item ${n}`, kg: Math.abs(mm) / 50, at: [mm, 1, 2] });
      case 3: return job.masses.length > 1 ? edits.removeMass(job, { id: some(job.masses, n)!.id }) : job;
      case 4: return edits.addLoadCase(job, { name: `Case ${n}`, tempC: mm / 20 });
      case 5: return job.loadCases.length > 1 ? edits.removeLoadCase(job, { id: some(job.loadCases, n)!.id }) : job;
      case 6: return edits.setMassOff(job, { loadCase: some(job.loadCases, n)!.id, mass: some(job.masses, n)!.id, off: raw > 0 });
      case 7: return job.struts.length > 0 ? edits.removeStrut(job, { id: some(job.struts, n)!.id }) : job;
      case 8: return edits.addStrut(job, { strut: { ...boat.struts[0]!, id: edits.freshId(job, 'struts', 'strut'), base: 'hingeA', lid: 'grip' } as JobStrut });
      case 9: return job.struts.length > 0 ? edits.standOnMount(job, { strut: some(job.struts, n)!.id, end: raw > 0 ? 'base' : 'lid', normal: [0, 0, 1], reference: [1, 0, 0], azimuthDeg: mm % 180, tiltDeg: 0 }) : job;
      case 10: return edits.addPhoto(job, { photo: photo(`p${n % 3}`) });
      case 11: return job.photos?.length ? edits.removePhoto(job, { id: some(job.photos, n)!.id }) : job;
      case 12: return edits.addBracket(job, { bracket: bracket(edits.freshId(job, 'brackets', 'b')) });
      case 13: return job.brackets?.length ? edits.removeBracket(job, { id: some(job.brackets, n)!.id }) : job;
      case 14: return edits.setGivens(job, { givens: [...(job.givens ?? []), { name: `g${n}`, expression: `${mm} mm` }] });
      default: return edits.addPoint(job, { id: edits.freshId(job, 'points', 'p'), name: 'P', on: raw > 0 ? 'lid' : 'base', at: [mm, 2, 3] });
    }
  };
}); // prettier-ignore

describe('undo and redo', () => {
  it.each(exampleFiles())(
    '%s: undo after any sequence of edits and gestures gives every earlier job byte for byte, redo every later one',
    (file) => {
      const start = deepFreeze(jobAt(file));
      fc.assert(
        fc.property(
          fc.array(
            fc.record({
              moves: fc.array(move, { minLength: 1, maxLength: 4 }),
              as: fc.constantFrom('edits', 'gesture', 'cancelled'),
            }),
            { maxLength: 14 },
          ),
          (steps) => {
            let history: History = edits.startHistory(start);
            const texts = [writeJob(start)];
            const record = (): void => {
              const text = writeJob(history.present);
              if (history.past.length > texts.length - 1) texts.push(text);
            };
            for (const { moves, as } of steps) {
              if (as === 'edits')
                for (const m of moves) {
                  history = edits.commit(history, deepFreeze(m(history.present)), 'an edit');
                  record();
                }
              else {
                const before = history.past.length;
                history = edits.beginGesture(history);
                for (const m of moves) history = edits.moveGesture(history, deepFreeze(m(history.present)));
                history = as === 'gesture' ? edits.endGesture(history, 'a drag') : edits.cancelGesture(history);
                expect(history.past.length - before).toBeLessThanOrEqual(as === 'gesture' ? 1 : 0);
                if (as === 'cancelled') expect(writeJob(history.present)).toBe(texts.at(-1));
                record();
              }
            }
            expect(writeJob(history.present)).toBe(texts.at(-1));
            for (let i = texts.length - 2; i >= 0; i--) {
              history = edits.undo(history);
              expect(writeJob(history.present)).toBe(texts[i]);
            }
            expect(edits.undo(history)).toBe(history);
            for (let i = 1; i < texts.length; i++) {
              history = edits.redo(history);
              expect(writeJob(history.present)).toBe(texts[i]);
            }
            expect(edits.redo(history)).toBe(history);
          },
        ),
        { numRuns: runs(600) },
      );
    },
  );

  const at = (x: number): Job => edits.movePoint(boat, { id: 'grip', at: [x, 1, 2] });
  it('a gesture of many moves is one step; each shows while it lasts', () => {
    let h = edits.beginGesture(edits.startHistory(boat));
    for (const x of [-1, -2, -3]) {
      h = edits.moveGesture(h, at(x));
      expect(h.present).toEqual(at(x));
      expect(h.past).toHaveLength(0);
    }
    h = edits.endGesture(h, 'drag the grip');
    expect(h.past.map((s) => s.label)).toEqual(['drag the grip']);
    expect(edits.undo(h).present).toBe(boat);
    expect(edits.redo(edits.undo(h)).present).toEqual(at(-3));
  });
  it('a gesture that ends where it began is no step and costs no redo', () => {
    let h = edits.undo(edits.commit(edits.startHistory(boat), at(-5), 'move'));
    h = edits.endGesture(edits.moveGesture(edits.moveGesture(edits.beginGesture(h), at(-9)), boat), 'nothing');
    expect(h.past).toHaveLength(0);
    expect(h.future).toHaveLength(1);
    expect(edits.redo(h).present).toEqual(at(-5));
  });
  it('a cancelled gesture leaves no redo of itself, and undo in the middle of one is a cancel', () => {
    const moving = edits.moveGesture(edits.beginGesture(edits.startHistory(boat)), at(-9));
    for (const h of [edits.cancelGesture(moving), edits.undo(moving)]) {
      expect(h.present).toBe(boat);
      expect([h.past, h.future, h.mark]).toEqual([[], [], null]);
    }
    expect(edits.redo(moving)).toBe(moving);
  });
  it('a new edit after undo drops what could be redone', () => {
    const h = edits.commit(edits.undo(edits.commit(edits.startHistory(boat), at(-5), 'one')), at(-6), 'two');
    expect(h.future).toEqual([]);
    expect(h.past.map((s) => s.label)).toEqual(['two']);
  });
  it('moves outside a gesture change nothing; an edit that changes nothing is no step', () => {
    const h = edits.startHistory(boat);
    expect(edits.moveGesture(h, at(-9))).toBe(h);
    expect(edits.endGesture(h, 'x')).toBe(h);
    expect(edits.commit(h, boat, 'x')).toBe(h);
  });
  it('keeps the last steps only', () => {
    let h = edits.startHistory(boat);
    for (let i = 0; i < edits.MOST_STEPS + 20; i++) h = edits.commit(h, at(-i - 1), String(i));
    expect(h.past).toHaveLength(edits.MOST_STEPS);
    expect(h.past.at(-1)!.label).toBe(String(edits.MOST_STEPS + 19));
  });
});
