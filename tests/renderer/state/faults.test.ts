// Random sequences of open, edit, save, kill and recover in two tabs, with a disk and a store that fail: what was edited more
// than 5 s ago is there, or the person was told within 5 s.
import * as fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { runs } from '../../support/tier';
import { type Fault, World, loadTab, stubGlobals } from './fault-world';

type Command = fc.AsyncCommand<object, World>;

const command = (name: string, run: (world: World) => void | Promise<void>): Command => ({
  check: () => true,
  run: async (_, world) => {
    await run(world);
    await world.wait(0);
    expect(world.wrong).toEqual([]);
  },
  toString: () => name,
});

const tab = fc.constantFrom(0, 0, 0, 1);
const place = fc.constantFrom('A', 'B', 'C');
const fault = fc.oneof(
  { weight: 3, arbitrary: fc.constant<Fault>('ok') },
  { weight: 1, arbitrary: fc.constantFrom<Fault[]>('full', 'hang') },
  { weight: 2, arbitrary: fc.integer({ min: 100, max: 9000 }).map((slowMs): Fault => ({ slowMs })) },
);

const edits = tab.map((t) => command(`edit(${t})`, (w) => w.edit(t)));
const waits = fc
  .oneof(fc.integer({ min: 0, max: 1500 }), fc.integer({ min: 1500, max: 7000 }))
  .map((ms) => command(`wait(${ms})`, (w) => w.wait(ms)));
const others = [
  fc.tuple(tab, fc.boolean()).map(([t, forth]) => command(`undo(${t}, ${forth})`, (w) => w.undo(t, forth))),
  fc.tuple(tab, fc.boolean()).map(([t, ends]) => command(`drag(${t}, ${ends})`, (w) => w.drag(t, ends))),
  fc.tuple(tab, fc.boolean()).map(([t, good]) => command(`type(${t}, ${good})`, (w) => w.type(t, good))),
  tab.map((t) => command(`escape(${t})`, (w) => w.escape(t))),
  fc.tuple(tab, fc.option(place)).map(([t, as]) => command(`save(${t}, ${as})`, (w) => w.save(t, as))),
  fc
    .tuple(tab, place, fc.boolean())
    .map(([t, name, risky]) => command(`open(${t}, ${name}, ${risky})`, (w) => w.open(t, name, risky))),
  place.map((name) => command(`foreign(${name})`, (w) => w.foreign(name))),
  tab.map((t) => command(`kill(${t})`, (w) => w.kill(t))),
  tab.map((t) => command(`kill(${t}), recover`, (w) => w.kill(t).then(() => w.recover(t, 'back')))),
  fc
    .tuple(tab, fc.constantFrom<('back' | 'copy' | 'drop')[]>('back', 'back', 'copy', 'drop'))
    .map(([t, how]) => command(`recover(${t}, ${how})`, (w) => w.recover(t, how))),
  fault.map((f) => command(`disk(${JSON.stringify(f)})`, (w) => w.setFault('disk', f))),
  fault.map((f) => command(`store(${JSON.stringify(f)})`, (w) => w.setFault('store', f))),
];

describe('faults of every kind', () => {
  let modules: Awaited<ReturnType<typeof loadTab>>[];
  beforeAll(async () => {
    modules = [await loadTab(), await loadTab()];
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'Date'] });
    stubGlobals();
  });
  afterAll(() => {
    vi.useRealTimers();
    vi.unstubAllGlobals();
    vi.restoreAllMocks();
  });

  const opened = async (): Promise<World> => {
    const world = new World(modules);
    await world.start(0);
    await world.start(1);
    world.open(0, 'A', false);
    world.open(1, 'B', false);
    await world.wait(0);
    return world;
  };

  it.each<[string, Fault]>([
    ['never answers', 'hang'],
    ['refuses', 'full'],
    ['takes 9 s for everything', { slowMs: 9000 }],
  ])('a store that %s holds up no save, no save as and no opening', async (_, fault) => {
    const world = await opened();
    world.setFault('store', fault);
    world.edit(0);
    world.save(0, null);
    await world.wait(12_000);
    expect(world.titleIn('A')).toBe('t1');
    world.edit(0);
    world.save(0, 'C');
    await world.wait(12_000);
    expect(world.titleIn('C')).toBe('t2');
    world.open(0, 'B', false);
    await world.wait(25_000);
    expect(world.shown(0)).toBe('B');
    await world.end();
    expect(world.wrong).toEqual([]);
  });

  const total: Record<string, number> = {};
  const count = runs(5000, 120);
  it(`lose no edit older than 5 s unsaid, in ${count} sequences`, async () => {
    // edits and waits about as often as all the others together
    const commands = fc.commands([edits, edits, edits, waits, waits, waits, ...others], {
      maxCommands: 40,
      size: 'max',
    });
    await fc.assert(
      fc.asyncProperty(commands, async (steps) => {
        const world = await opened();
        await fc.asyncModelRun(() => ({ model: {}, real: world }), steps);
        await world.end();
        expect(world.wrong).toEqual([]);
        for (const [key, n] of Object.entries(world.counts)) total[key] = (total[key] ?? 0) + n;
      }),
      { numRuns: count, endOnFailure: false },
    );
    console.log(`${count} sequences: ${JSON.stringify(total)}`);
    // were nothing ever killed, saved, brought back or lost young, this would show nothing
    for (const key of ['kills', 'saves', 'recovered', 'lostYoung', 'lostTold', 'asked'])
      expect(total[key], key).toBeGreaterThan(0);
  });
});
