import { describe, expect, it } from 'vitest';
import {
  boxOf,
  bracketSpecOf,
  checkBracket,
  farEnd,
  type Handle,
  handlesOf,
  linesOf,
  setBracketKind,
} from '../../core/bracket';
import { BRACKET_KINDS, type BracketKind, resolveJob } from '../../core/job';
import { jobWith } from '../core/strength/scene';

const FACES = ['top', 'side', 'front', 'flat'] as const;
const same = (value: number): number => value;
const jobOf = (kind: BracketKind) =>
  setBracketKind(jobWith({ ...(kind === 'gusset-angle' ? { baseWidthMm: 90 } : {}) }), { id: 'b1', kind });
const specOf = (job: ReturnType<typeof jobOf>) => bracketSpecOf(resolveJob(job).brackets[0]!);

describe.each(BRACKET_KINDS)('handles of a %s', (kind) => {
  const job = jobOf(kind);
  const spec = specOf(job);
  it('can be made, to begin with', () => {
    expect(checkBracket(spec).filter((i) => i.severity === 'fails')).toEqual([]);
  });
  it.each(FACES)('%s: each lies on what is drawn, stays when not moved, and goes as far as it is dragged', (face) => {
    const handles = handlesOf(spec, face);
    expect(new Set(handles.map((h) => h.id)).size).toBe(handles.length);
    expect(handles.length).toBeGreaterThan(1);
    const box = boxOf(linesOf(spec, face), [])!;
    for (const h of handles) {
      // widths are measured between sharp corners: a rounded one lies up to a millimetre or two inside
      const off = h.shape === 'edge' && /side/.test(h.id) ? 2 : 1e-6;
      if (h.shape !== 'ball') {
        expect(h.at[0]).toBeGreaterThan(box[0] - off);
        expect(h.at[0]).toBeLessThan(box[2] + off);
        expect(h.at[1]).toBeGreaterThan(box[1] - off);
        expect(h.at[1]).toBeLessThan(box[3] + off);
      }
      expect(h.move(job, [0, 0], same)).toBe(job);
      for (const way of h.ways) {
        const by = way === 'across' ? ([0.5, 0] as const) : ([0, 0.5] as const);
        const next = specOf(h.move(job, by, same) as typeof job);
        const after = handlesOf(next, face).find((x) => x.id === h.id) as Handle;
        // an end that is dragged while the far one stays: the drawing is laid on the far one
        const [fx, fy] = h.stays === 'far' ? farEnd(next, face) : [0, 0];
        const [gx, gy] = h.stays === 'far' ? farEnd(spec, face) : [0, 0];
        const went = way === 'across' ? after.at[0] - h.at[0] - fx + gx : after.at[1] - h.at[1] - fy + gy;
        // widths share a mark between two that move; where a corner's radius or a slant has a part in its place it still goes that way
        expect(went, `${h.id} ${way}`).toBeCloseTo(0.5, 1);
      }
    }
  });
  it.each(FACES)('%s: its numbers are the distances they stand between', (face) => {
    for (const h of handlesOf(spec, face))
      for (const dim of h.dims)
        expect(Math.hypot(dim.to[0] - dim.from[0], dim.to[1] - dim.from[1]), `${h.id} ${dim.words}`).toBeCloseTo(
          dim.mm,
          6,
        );
  });
});
