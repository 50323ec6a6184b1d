// What may hurt somebody: letting go, latches, hinges, sockets, what nobody asked. Each check in each state it can have.
import { describe, expect, it } from 'vitest';
import { type Job, setValue, setValues } from '../../../core/job';
import { type Question, countOf } from '../../../core/findings';
import { setFitting } from '../../../core/joint';
import { jobOfLid } from '../../../core/start';
import { expectClose, within } from '../../support/close';
import { jobAt } from '../../support/files';
import { constantForce, lid } from '../../support/build';
import { finding, job, outcome } from './support';

const set = (j: Job, settings: Record<string, unknown>): Job =>
  setValues(j, {
    settings: Object.entries(settings).map(([path, value]) => ({
      path: path.split('.').map((key) => (/^\d+$/.test(key) ? Number(key) : key)),
      value,
    })),
  });
/** The only finding of an id, whichever its case. */
const only = (j: Job, id: string) => {
  const found = outcome(j).findings.filter((f) => f.id === id);
  expect(found.map((f) => f.case)).toHaveLength(1);
  return found[0]!;
};

/** Hinge along Y through the origin, 20 kg at 400 mm, grip at 800; a constant force at 300 mm of lever arm when shut. */
const flat = (forceN: number, over: Partial<Parameters<typeof lid>[0]> = {}): Job =>
  lid({
    ...{ a: [0, -300, 0], b: [0, 300, 0], grip: [800, 0, 0], masses: [{ kg: 20, at: [400, 0, 0] }], openDeg: 40 },
    struts: [{ base: [300, 0, -400], lid: [300, 0, 0], spec: constantForce(forceN, 620, 280) }],
    ...over,
  });

describe('letting go', () => {
  // M(0) = F·0.3 − 20·9.80665·0.4: with 500 N 71.5468 N·m, at the grip 89.4335 N
  it('watches where the job sets no limit, fails over one that it sets, and is never a failure without', () => {
    const open = flat(500);
    expect(only(open, 'let-go-open')).toMatchObject({ state: 'watch', limit: null, margin: null, case: 'case0' });
    expect(only(open, 'grip-at-shut')).toMatchObject({ state: 'watch', limit: null });
    expectClose(only(open, 'grip-at-shut').value, 89.4335, within(1e-4, 'N'));
    const { value } = only(open, 'let-go-open');
    const limited = (letGoJ: number, letGoN: number): Job =>
      set(open, { 'limits.letGoJ': letGoJ, 'limits.letGoN': letGoN });
    expect(only(limited(value! + 0.1, 89.5), 'let-go-open').state).toBe('holds');
    expect(only(limited(value! - 0.1, 89.5), 'let-go-open').state).toBe('fails');
    expect(only(limited(1, 89.5), 'grip-at-shut').state).toBe('holds');
    expect(only(limited(1, 89.4), 'grip-at-shut')).toMatchObject({ state: 'fails', unit: 'N' });
    expect(only(open, 'let-go-open').text).toMatch(/throws itself open with \d+ J from 0° to 40°/);
  });
  it('names the worst load case, and of those that must hold only', () => {
    const two = flat(500, { cases: [{}, { name: 'Hot', tempC: 60 }, { tempC: 90, mustHold: false }] });
    expect(only(two, 'let-go-open')).toMatchObject({ case: 'case1', state: 'watch' });
    expect(only(two, 'let-go-open').text).toContain('Hot: ');
  });
  it('a lid that opens downward falls open: the same law, other side', () => {
    const hatch = flat(30, { opens: 'down', struts: [] });
    // without struts: 20·9.80665·0.4·sin 40°
    expectClose(only(hatch, 'let-go-open').value, 50.428745, within(1e-4, 'J'));
    expect(only(hatch, 'let-go-open').state).toBe('watch');
    expect(only(hatch, 'let-go-open').text).toContain('falls open with 50 J');
    expect(only(hatch, 'let-go-shut')).toMatchObject({ state: 'holds', value: 0 });
    // with a strut that is far too strong it is thrown shut; an upright door does neither
    const pushed = flat(2000, {
      opens: 'down',
      struts: [{ base: [300, 0, 400], lid: [300, 0, 0], spec: constantForce(900, 620, 280) }],
    });
    expect(only(pushed, 'let-go-open').text).toContain('falls open');
    const thrown = flat(1, {
      opens: 'down',
      struts: [{ base: [300, 0, -400], lid: [300, 0, 0], spec: constantForce(900, 420, 350) }],
    });
    expect(only(thrown, 'let-go-shut').text).toContain('throws itself shut');
    const door = lid({ a: [0, 0, -300], b: [20, 0, 300], grip: [800, 100, 0], masses: [{ kg: 40, at: [400, 60, 0] }] });
    expect(['let-go-open', 'let-go-shut'].map((id) => only(door, id).text).join()).toContain('swings ');
  });
  it('is not known where a strut can not be there', () => {
    const torn = set(flat(500), { 'struts.0.spec.extendedMm': 470, 'struts.0.spec.strokeMm': 100 });
    expect(['unknown', 'watch']).toContain(only(torn, 'let-go-open').state);
    const none = set(flat(500), { 'struts.0.spec.extendedMm': 2000 });
    for (const id of ['let-go-open', 'let-go-shut', 'grip-at-shut'])
      expect(only(none, id), id).toMatchObject({ state: 'unknown', value: null });
  });
});

describe('latch-holds and stays-shut', () => {
  it('without a latch it is watched at most, with how hard it pushes', () => {
    expect(only(flat(500), 'stays-shut')).toMatchObject({ state: 'watch', unit: 'N·m', limit: 0 });
    expectClose(only(flat(500), 'stays-shut').value, 71.5468, within(1e-4, 'N·m'));
    expect(only(flat(100), 'stays-shut').state).toBe('holds');
  });
  it('with one, what it holds against its rating; without a rating it is told', () => {
    const latched = (ratedN?: number): Job => set(flat(500), { latch: { at: 'grip', ...(ratedN ? { ratedN } : {}) } });
    expect(only(latched(89), 'latch-holds')).toMatchObject({ state: 'fails', limit: 89 });
    expect(only(latched(90), 'latch-holds').state).toBe('holds');
    expect(only(latched(), 'latch-holds')).toMatchObject({ state: 'holds', limit: null });
    expect(outcome(latched()).findings.some((f) => f.id === 'stays-shut')).toBe(false);
  });
});

describe('a load case that is only told', () => {
  // hard braking of a flap that stands upright when shut, 20 kg at 400 mm over its hinge: 20·7.84532·0.4 = 62.76256 N·m throw it forward
  const upright = lid({
    ...{ a: [0, -300, 0], b: [0, 300, 0], grip: [0, 0, 800], masses: [{ kg: 20, at: [50, 0, 400] }], openDeg: 90 },
    opens: 'down',
    cases: [{ pitchDeg: -10 }, { accelG: [-0.8, 0, 0], mustHold: false }],
  });
  it('the latch must hold in it all the same', () => {
    const latched = (ratedN: number): Job => set(upright, { latch: { at: 'grip', ratedN } });
    const { value } = only(latched(1), 'latch-holds');
    // and its weight, 50 mm ahead of the hinge, 9.80665 N·m: over 800 mm
    expectClose(value, (62.76256 + 9.80665) / 0.8, within(1e-6, 'N'));
    expect(only(latched(value! - 1), 'latch-holds')).toMatchObject({ state: 'fails', case: 'case1' });
    expect(only(latched(value! - 1), 'latch-holds').text).not.toContain('told');
    expect(only(latched(value! + 1), 'latch-holds').state).toBe('holds');
  });
  it('without a latch it is watched there, and what a hand does in it is told', () => {
    expect(only(upright, 'stays-shut')).toMatchObject({ state: 'watch', case: 'case1' });
    const hard = outcome(set(upright, { 'limits.handCloseN': 20 })).findings.filter((f) => f.case === 'case1');
    expect(hard.find((f) => f.id === 'hand-closing')!.state).toBe('watch');
  });
});

describe('asked', () => {
  const all: Partial<Record<Question, object>> = {
    cold: { tempC: -10 },
    hot: { tempC: 45 },
    slope: { rollDeg: 4 },
    aged: { ageLossPercent: 15 },
    wind: { wind: { ms: 8, towards: 'shut' } },
  };
  const asking = (cases: object[]): Job => ({
    ...job({ cases }),
    points: [
      ...job().points,
      ...[1, 2, 3].map((i) => ({ id: `k${i}`, on: 'lid' as const, at: [-100 * i, 40 * i * i, 300] as const })),
    ],
    outline: ['k1', 'k2', 'k3'],
  });
  it('names everything that no load case asks', () => {
    const { state, text } = only(asking([{}]), 'asked');
    expect(state).toBe('unknown');
    for (const word of ['cold', 'heat', 'a slope', 'aged', 'wind']) expect(text).toContain(word);
    expect(text).not.toContain('lost');
  });
  it.each(Object.entries(all))(
    '%s is asked by a load case, or dismissed with a reason that is told',
    (question, loadCase) => {
      const others = Object.entries(all).flatMap(([q, c]) => (q === question ? [] : [c]));
      expect(only(asking(others), 'asked').state).toBe('unknown');
      expect(only(asking([...others, loadCase]), 'asked').state).toBe('holds');
      const dismissed = [{ finding: 'asked', about: question, reason: 'it stands in a hall' }];
      const told = only({ ...asking(others), dismissed }, 'asked');
      expect(told.state).toBe('holds');
      expect(told.text).toContain('it stands in a hall');
    },
  );
  it('asks for a lost strut where there are two, and for loads that come off where there are any', () => {
    const pair = set(asking(Object.values(all)), { 'struts.0.quantity': 2 });
    expect(only(pair, 'asked').text).toContain('one strut lost');
    expect(only(set(pair, { 'loadCases.0.lost': ['s0'] }), 'asked').state).toBe('holds');
    const loaded = asking(Object.values(all));
    const more = { ...loaded, masses: [...loaded.masses, { id: 'pump', kg: 2, at: loaded.masses[0]!.at }] };
    expect(only(more, 'asked').text).toContain('taken off');
    expect(only(set(more, { 'loadCases.0.off': ['pump'] }), 'asked').state).toBe('holds');
  });
  it('an accelerated base counts as a slope', () => {
    const { slope: _slope, ...rest } = all;
    expect(only(asking([...Object.values(rest), { accelG: [0.3, 0, 0] }]), 'asked').state).toBe('holds');
  });
});

describe('strut-exists', () => {
  const lengths = (extendedMm: number, strokeMm: number, listedMm?: [number, number]) =>
    only(job({}, { extendedMm, strokeMm, rodMm: 8, tubeMm: 18, ...(listedMm ? { listedMm } : {}) }), 'strut-exists');
  it('fails where the stroke does not go into the length, is watched where the ends have little room', () => {
    // 8/18: 50 mm for piston, seal and ends (common practice)
    expect(lengths(539, 270).state).toBe('fails');
    expect(lengths(540, 270).state).toBe('watch');
    expect(lengths(588.9, 270).state).toBe('watch');
    expect(lengths(589, 270).state).toBe('holds');
    expect(lengths(560, 270).text).toContain('255.0 mm or less');
  });
  it('one of the user’s own list is watched at most, as long as its lengths are the list’s', () => {
    expect(lengths(539, 270, [539, 270]).state).toBe('watch');
    expect(lengths(560, 270, [560, 270]).state).toBe('holds');
    expect(lengths(539, 270, [540, 270]).state).toBe('fails');
  });
});

describe('socket-pull', () => {
  // stopped by a strut of a constant 500 N at its full length
  const stopped = (fitting: string): Job => {
    const stop = flat(500, { stop: 'strut', openDeg: 80 });
    return set(stop, {
      'struts.0.spec.extendedMm': 550,
      'struts.0.ends.base.fitting': fitting,
      'struts.0.ends.lid.fitting': fitting,
    });
  };
  it('fails where a hand on the stop pulls harder than the socket bears, and a clip makes it a watch', () => {
    const f = only(stopped('angled-ball-13-m8'), 'socket-pull');
    expect(f.state).toBe('fails');
    // what is left over and 150 N at 0.8 m, over the lever arm, less the strut's own 500 N
    const t = outcome(stopped('angled-ball-13-m8')).tables[0]!;
    const pull = (t.openingMomentNm.at(-1)! + 150 * 0.8) / (t.struts[0]!.leverArmMm.at(-1)! / 1000) - 500;
    expectClose(f.value, pull, within(1e-6, 'N'));
    expect(f.limit).toBeLessThan(pull);
    expect(only(stopped('angled-ball-13-m8-clip'), 'socket-pull').state).toBe('watch');
    // a size that nobody has stated can warn, not condemn
    expect(only(stopped('ball-stud'), 'socket-pull').state).toBe('watch');
  });
  it('a force that the user states counts, clip or not, and goes with the fitting it was stated of', () => {
    const stated = (holdsN: number): Job =>
      set(stopped('angled-ball-13-m8-clip'), {
        'struts.0.ends.base.separatingN': holdsN,
        'struts.0.ends.lid.separatingN': holdsN + 1,
      });
    const { value } = only(stated(100), 'socket-pull');
    expect(only(stated(value! - 1), 'socket-pull')).toMatchObject({ state: 'fails', limit: value! - 1 });
    expect(only(stated(value! + 1), 'socket-pull').state).toBe('holds');
    const other = { strut: 's0', end: 'base', fitting: 'angled-ball-16-m10', rangeDeg: 18 } as const;
    expect(setFitting(stated(100), other).struts[0]!.ends.base.separatingN).toBeUndefined();
  });
  it('says nothing of a fork on its pin, nor of a strut that stops nothing', () => {
    for (const j of [stopped('fork'), flat(500)])
      expect(outcome(j).findings.some((f) => f.id === 'socket-pull')).toBe(false);
  });
});

describe('opening-angle', () => {
  it('tells where a strut stops the lid; watches a lid that nothing stops; says nothing of one with a stop of its own', () => {
    // 550 mm reached: base (300, 0, −400), lid 300 from the hinge, so ℓ² = 500² + 300² + 2·500·300·sin(θ − 36.87°)
    const stopped = set(flat(500, { stop: 'strut', openDeg: 80 }), { 'struts.0.spec.extendedMm': 550 });
    const at = (Math.asin((550 ** 2 - 500 ** 2 - 300 ** 2) / (2 * 500 * 300)) * 180) / Math.PI + 36.869898;
    expect(only(stopped, 'opening-angle')).toMatchObject({ state: 'holds', subject: 's0', limit: null });
    expectClose(only(stopped, 'opening-angle').value, at, within(1e-5, '°'));
    const never = set(stopped, { 'struts.0.spec.extendedMm': 720 });
    expect(only(never, 'opening-angle')).toMatchObject({ state: 'watch', subject: 'lid', value: 80 });
    expect(outcome(flat(500)).findings.some((f) => f.id === 'opening-angle')).toBe(false);
  });
});

describe('hinge-load, upright-hinge, temperature, over-centre', () => {
  it('hinge-load: told without a rating, held against one', () => {
    const { value } = only(job(), 'hinge-load');
    const t = outcome(job()).tables[0]!;
    let most = 0;
    for (const row of [t.hingeAN, t.hingeBN])
      for (let i = 0; i < row.length; i += 3) most = Math.max(most, Math.hypot(row[i]!, row[i + 1]!, row[i + 2]!));
    expectClose(value, most, within(1e-9, 'N'));
    expect(only(job(), 'hinge-load')).toMatchObject({ state: 'holds', limit: null });
    expect(only(set(job(), { 'hinge.ratedN': most + 1 }), 'hinge-load').state).toBe('holds');
    expect(only(set(job(), { 'hinge.ratedN': most - 1 }), 'hinge-load').state).toBe('fails');
  });
  it('upright-hinge: watched within 10° of upright, not at upright nor beyond', () => {
    const leaning = (deg: number): Job => {
      const lean = Math.tan((deg * Math.PI) / 180) * 600;
      return lid({ a: [0, 0, 300], b: [lean, 0, -300], grip: [800, 100, 0], masses: [{ kg: 20, at: [400, 60, 0] }] });
    };
    const found = (deg: number) => outcome(leaning(deg)).findings.filter((f) => f.id === 'upright-hinge');
    expect(found(4)).toMatchObject([{ state: 'watch' }]);
    expect(found(4)[0]!.text).toMatch(/leans 4° .*clockwise/);
    expect(found(0)).toEqual([]);
    expect(found(11)).toEqual([]);
  });
  it('temperature: watched outside −30 to 80 °C', () => {
    const at = (tempC: number): string => only(job({ cases: [{}, { tempC }] }), 'temperature').state;
    expect([-31, -30, 80, 81].map(at)).toEqual(['watch', 'holds', 'holds', 'watch']);
  });
  it('over-centre: what is meant holds where it happens, and is watched where it does not', () => {
    const dip = job(
      { openDeg: 80 },
      { extendedMm: 700, strokeMm: 400 },
      { base: [-250, 395, 560], lid: [-420, 400, 310] },
    );
    expect(finding(outcome(dip), 'dead-centre').state).toBe('fails');
    const meant = outcome(set(dip, { 'hinge.overCentre': true })).findings;
    expect(meant.find((f) => f.id === 'over-centre')).toMatchObject({ state: 'holds' });
    expect(meant.some((f) => f.id === 'dead-centre')).toBe(false);
    expect(only(set(job(), { 'hinge.overCentre': true }), 'over-centre').state).toBe('watch');
  });
});

describe('what is told of every job', () => {
  it('numbers that the file leaves out are told, not taken as none without a word', () => {
    const bare = job();
    const { frictionN: _f, toleranceN: _t, ...spec } = bare.struts[0]!.spec;
    const { text } = only(setValue(bare, { path: ['struts', 0, 'spec'], value: spec }), 'assumed-values');
    expect(text).toContain('friction, tolerance are not stated and taken as none');
    expect(outcome(bare).findings.some((f) => f.id === 'assumed-values')).toBe(false);
  });
  it('a lost strut is a caution: to watch, and counted by nobody', () => {
    const f = only(job(), 'drop-energy');
    expect(f).toMatchObject({ state: 'watch', caution: true });
    expect(countOf([f], 'watch')).toBe(0);
    expect(
      outcome(job())
        .findings.filter((g) => g.caution)
        .map((g) => g.id),
    ).toEqual(['drop-energy']);
  });
  it('a fresh lid from its sizes shows five lines at most that do not hold, cautions aside', () => {
    for (const kg of [8, 16, 25])
      for (const openDeg of [60, 75, 90]) {
        const fresh = jobOfLid({
          ...{ title: 'A lid', widthMm: 900, kg, openDeg, photos: [] },
          places: {
            hinge: [0, 0],
            edge: [-800, 0],
            grip: [-790, 0],
            base: [-200, -420],
            lid: [-330, -10],
            mass: [-400, 10],
          },
        });
        const open = outcome(fresh).findings.filter((f) => f.state !== 'holds' && !f.caution);
        // as the panel lists them: one line a check, thing and state
        const lines = new Set(open.map((f) => `${f.state} ${f.id} ${f.subject}`));
        expect(lines.size, open.map((f) => f.text).join('\n')).toBeLessThanOrEqual(5);
      }
  });
  it('the workboat’s hatch: canister off and hot is to be watched', () => {
    const boat = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
    expect(only(boat, 'let-go-open')).toMatchObject({ state: 'watch', case: 'canister-off-hot' });
    expectClose(only(boat, 'let-go-open').value, 116, within(0.5, 'J'));
    expect(only(boat, 'grip-at-shut').state).toBe('watch');
  });
});
