import { describe, expect, it } from 'vitest';
import { resolveJob } from '../../../core/job';
import { scaleEntry, seenAlongEdges, standOf } from '../../../core/weigh';
import { dot, norm, sub, toRad, sin, cos } from '../../../core/space';
import { expectClose, within } from '../../support/close';
import { refusal } from '../../support/refusal';
import { example } from '../examples/example';

const job = {
  ...example('workboat-hatch'),
  givens: [
    { name: 'pull', expression: '120 N' },
    { name: 'item', expression: '10 kg' },
  ],
};

describe('what is typed for a scale', () => {
  it('is newtons, or an expression where a given is named', () => {
    expect(scaleEntry(job, '12.5', 'kg')).toBe(122.583125);
    expect(scaleEntry(job, 'pull / 2 + 3', 'N')).toEqual({ expression: 'pull / 2 + 3', unit: 'N' });
    expect(scaleEntry(job, ' 2 pull ', 'kg')).toEqual({ expression: '2 pull', unit: 'kgf' });
  });
  it('is the weight now of a given that is a mass', () => {
    expect(scaleEntry(job, 'item', 'kg')).toBe(98.0665);
  });
  it('is refused in words where it is no force', () => {
    expect(refusal(() => scaleEntry(job, '3 mm', 'kg')).advice).toMatch(/12\.4/);
  });
});

describe('a stand seen along its edges', () => {
  const resolved = resolveJob(example('workboat-hatch'));
  const [first, second] = [resolved.outline[0]!, resolved.outline[2]!];
  it.each([0, 12, -25])('at a tilt of %d° the second edge lies to the right, lower or higher by as much', (tiltDeg) => {
    const stand = standOf(resolved, [first, second], tiltDeg)!;
    const seen = seenAlongEdges(stand);
    const apart = norm(sub(stand.secondMm, stand.firstMm));
    expectClose(seen(stand.firstMm), [0, 0], within(1e-12, 'mm'));
    const [x, y] = seen(stand.secondMm);
    expect(x).toBeGreaterThan(0);
    expectClose(Math.hypot(x, y), apart, within(1e-9, 'mm'));
    expectClose(y, dot(stand.up, sub(stand.secondMm, stand.firstMm)), within(1e-9, 'mm'));
    const level = standOf(resolved, [first, second], 0)!;
    const flat = seenAlongEdges(level)(level.secondMm);
    const turn = toRad(Math.abs(tiltDeg));
    expectClose(
      Math.abs(y),
      Math.abs(flat[1] * cos(turn) + Math.sign(y) * Math.abs(flat[0]) * sin(turn)),
      within(1e-6, 'mm'),
    );
  });
});
