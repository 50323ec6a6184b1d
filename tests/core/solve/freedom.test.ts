// Freedom of mechanisms that are known by hand: Gruebler's count and the way each part moves.
import { describe, expect, it } from 'vitest';
import { freedom } from '../../../core/solve';
import { expectClose, within } from '../../support/close';
import { Linkage } from './linkage';

const look = (link: Linkage, count: 'hard' | 'all' = 'hard') =>
  freedom(link.problem(), Float64Array.from(link.values), count);

/** Base 0–1 pinned, crank 0–2, coupler 2–3, rocker 3–1, nothing square. */
function fourBar(): Linkage {
  const link = new Linkage(2);
  link.point(0, 0);
  link.point(430, -25);
  link.point(60, 150);
  link.point(390, 270);
  link.pin(0).pin(1);
  for (const [a, b] of [
    [0, 2],
    [2, 3],
    [3, 1],
  ] as const)
    link.distance(
      a,
      b,
      Math.hypot(link.values[2 * a]! - link.values[2 * b]!, link.values[2 * a + 1]! - link.values[2 * b + 1]!),
    );
  return link;
}

describe('degrees of freedom', () => {
  it('a four-bar linkage has one, and its crank moves square to itself', () => {
    const link = fourBar();
    const f = look(link);
    expect(f.degrees).toBe(1);
    const d = f.directions[0]!;
    expectClose([d[0], d[1], d[2], d[3]] as number[], [0, 0, 0, 0], within(0, 'mm'));
    expectClose(d[4]! * 60 + d[5]! * 150, 0, within(1e-10, 'mm²'));
    // the rocker turns about its own pin
    expectClose(d[6]! * (390 - 430) + d[7]! * (270 + 25), 0, within(1e-10, 'mm²'));
    // and the coupler keeps its length
    expectClose((d[6]! - d[4]!) * 330 + (d[7]! - d[5]!) * 120, 0, within(1e-10, 'mm²'));
    expect(f.mobility[0]).toBe(0);
    expect(f.mobility[4]).toBeGreaterThan(0.1);
    expect(f.redundant).toEqual([]);
  });

  it('with a diagonal it has none; with a second diagonal that one is redundant, said by the others', () => {
    const link = fourBar();
    link.distance(0, 3, Math.hypot(390, 270), 'hard', undefined, 'diagonal');
    expect(look(link).degrees).toBe(0);
    link.distance(1, 2, Math.hypot(370, 175), 'hard', undefined, 'other diagonal');
    const f = look(link);
    expect(f.degrees).toBe(0);
    expect(f.redundant.map((r) => r.name)).toEqual(['other diagonal']);
    expect(f.redundant[0]!.saidBy).toContain('diagonal');
    expect(f.redundant[0]!.saidBy).toContain('d2-3');
  });

  it('a slider-crank has one, and the slider moves along its way only', () => {
    const link = new Linkage(2);
    link.point(0, 0);
    link.point(70, 90);
    link.point(310, 15);
    link.pin(0).distance(0, 1, Math.hypot(70, 90)).distance(1, 2, Math.hypot(240, 75)).coordinate(2, 1, 15);
    const f = look(link);
    expect(f.degrees).toBe(1);
    expect(f.mobility[5]).toBe(0);
    expect(f.mobility[4]).toBeGreaterThan(0.1);
  });

  it('a five-bar linkage has two, a free rigid body in space six, a chain of three links in space 3·2', () => {
    const five = new Linkage(2);
    for (const p of [
      [0, 0],
      [500, 10],
      [-60, 190],
      [240, 330],
      [520, 240],
    ] as const)
      five.point(...p);
    five.pin(0).pin(1);
    for (const [a, b] of [
      [0, 2],
      [2, 3],
      [3, 4],
      [4, 1],
    ] as const)
      five.distance(a, b, 1);
    expect(look(five).degrees).toBe(2);

    const body = new Linkage(3);
    for (const p of [
      [0, 0, 0],
      [100, 7, 3],
      [20, 90, 11],
      [33, 27, 120],
    ] as const)
      body.point(...p);
    for (let a = 0; a < 4; a++) for (let b = a + 1; b < 4; b++) body.distance(a, b, 1);
    expect(look(body).degrees).toBe(6);

    const chain = new Linkage(3);
    for (const p of [
      [0, 0, 0],
      [100, 7, 3],
      [120, 90, 11],
      [133, 127, 120],
    ] as const)
      chain.point(...p);
    chain.pin(0);
    for (let a = 0; a < 3; a++) chain.distance(a, a + 1, 1);
    expect(look(chain).degrees).toBe(6);
  });

  it('a lid on two hinge points has one, whatever hangs on it: every point moves square to its arm', () => {
    const lid = new Linkage(3);
    for (const p of [
      [4, 452, 398],
      [-8, -458, 393],
      [-900, 60, 428],
      [-290, -516, 372],
    ] as const)
      lid.point(...p);
    lid.pin(0).pin(1);
    for (let b = 2; b < 4; b++) for (let a = 0; a < b; a++) lid.distance(a, b, 1);
    const f = look(lid);
    expect(f.degrees).toBe(1);
    for (const p of [2, 3]) {
      const d = lid.at(f.directions[0]!, p);
      for (const h of [0, 1]) {
        const arm = lid.at(lid.values, p).map((v, k) => v - lid.at(lid.values, h)[k]!);
        expectClose(
          d.reduce((s, v, k) => s + v * arm[k]!, 0),
          0,
          within(1e-9, 'mm²'),
        );
      }
    }
  });

  it('readings count when asked: the same four-bar is held by one reading of its diagonal', () => {
    const link = fourBar();
    link.distance(0, 3, 480, 'soft', 2);
    expect(look(link, 'hard').degrees).toBe(1);
    expect(look(link, 'all').degrees).toBe(0);
  });

  it('says the same of a demand made twice, and of one that three others make', () => {
    const link = new Linkage(2);
    for (const p of [
      [0, 0],
      [80, 12],
      [190, 40],
    ] as const)
      link.point(...p);
    link
      .same(0, 1, 1, 'A level with B')
      .same(1, 2, 1, 'B level with C')
      .same(0, 2, 1, 'A level with C')
      .coordinate(2, 0, 190, 'hard', undefined, 'C at 190')
      .coordinate(2, 0, 190, 'hard', undefined, 'C at 190 again');
    const f = look(link);
    expect(f.redundant).toEqual([
      { name: 'A level with C', saidBy: ['A level with B', 'B level with C'] },
      { name: 'C at 190 again', saidBy: ['C at 190'] },
    ]);
    expect(f.degrees).toBe(6 - 3);
  });
});
