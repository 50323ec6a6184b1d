import { describe, expect, it } from 'vitest';
import { lineStyles, type Mark, writeSvg } from '../../core/drawing';
import { writePdf } from '../../core/drawing/pdf';
import { bracketDrawing, paperFormats, projectionSymbol } from '../../core/papers';
import { hatchBracket } from '../../core/bracket/examples';
import { fontBytes } from '../core/drawing/font';
import { haveTool, pageSizeMm } from '../core/papers/readers';

const info = { title: 'Sheet', number: 'S-5', creator: '', approver: '', owner: '', date: '2026-11-25' };

describe('sheets', () => {
  // ISO 216; ISO 5457:1999 (identical: IS 10711:2001).
  it('have the trimmed sizes of ISO 216: A4 210 × 297 standing, A3 297 × 420 lying', () => {
    expect([paperFormats.A4.widthMm, paperFormats.A4.heightMm]).toEqual([210, 297]);
    expect([paperFormats.A3.widthMm, paperFormats.A3.heightMm]).toEqual([420, 297]);
  });

  // Margins of ISO 5457:1999 (20 mm filing edge, 10 mm elsewhere) from memory; the spaces computed from them.
  it.each([
    ['A4', 180, 277],
    ['A3', 390, 277],
  ] as const)('%s leaves a drawing space of %d × %d mm', (name, width, height) => {
    const { space, widthMm } = paperFormats[name];
    expect([space.right - space.left, space.top - space.bottom]).toEqual([width, height]);
    expect([space.left, widthMm - space.right, space.bottom]).toEqual([20, 10, 10]);
  });

  // Read by pdfinfo, which knows nothing of us. Tolerance of trimming in ISO 216 is ±1.5 mm up to 150 mm, ±2 to 600; ours is far closer.
  it.skipIf(!haveTool('pdfinfo')).each(['A4', 'A3'] as const)(
    '%s comes out at its size in PDF and SVG',
    async (paper) => {
      const sheet = bracketDrawing(hatchBracket, info, { paper, projection: 'first' });
      const [w, h] = pageSizeMm(await writePdf([sheet], { fontBytes, date: '2026-11-25' }));
      const [width, height] = paper === 'A4' ? [210, 297] : [420, 297];
      expect(Math.abs(w - width)).toBeLessThan(0.01);
      expect(Math.abs(h - height)).toBeLessThan(0.01);
      expect(writeSvg(sheet)).toContain(`width="${width}mm" height="${height}mm"`);
    },
  );

  // ISO 128-2:2020 (ISO 128-20 before): two widths 2 : 1 from the row 0.18 … 2 mm; frame 0.7 mm, ISO 5457:1999; both from memory.
  it('use line widths of the row of ISO 128', () => {
    for (const { widthMm } of Object.values(lineStyles)) expect([0.18, 0.25, 0.35, 0.5, 0.7, 1]).toContain(widthMm);
    expect(lineStyles.visible.widthMm / lineStyles.narrow.widthMm).toBe(2);
  });

  // Lettering heights of ISO 3098-0:1997, at least 2.5 mm on A4 and A3.
  it('letter in heights of ISO 3098, none under 2.5 mm', () => {
    for (const paper of ['A4', 'A3'] as const)
      for (const part of bracketDrawing(hatchBracket, info, { paper, projection: 'third' }).parts)
        for (const mark of part.marks) if (mark.kind === 'text') expect([2.5, 3.5, 5, 7]).toContain(mark.sizeMm);
  });

  // The title block is at most 180 mm wide in the lower right corner: ISO 7200, from memory.
  it('have the title block at the lower right, 180 mm wide or less', () => {
    for (const paper of ['A4', 'A3'] as const) {
      const marks = bracketDrawing(hatchBracket, info, { paper, projection: 'third' }).parts.find(
        (p) => p.name === 'title-block',
      )!.marks;
      const ends = marks.flatMap((m) => (m.kind === 'line' ? [m.from, m.to] : []));
      const right = Math.max(...ends.map((p) => p[0]));
      expect(right).toBe(paperFormats[paper].space.right);
      expect(right - Math.min(...ends.map((p) => p[0]))).toBeLessThanOrEqual(180);
      expect(Math.min(...ends.map((p) => p[1]))).toBe(paperFormats[paper].space.bottom);
    }
  });
});

describe('projection symbol', () => {
  // ISO 5456-2; rule computed: the circles are the view on the small end, where both show. Third angle puts a view on the
  // side it is seen from, so there the small end points at the circles; in first angle the large end does.
  it.each([
    ['first', 'large'],
    ['third', 'small'],
  ] as const)('%s angle: the %s end of the cone points at the circles', (projection, end) => {
    const marks: Mark[] = projectionSymbol(projection, [10, 20], 4);
    const cone = marks.find((m) => m.kind === 'path')!;
    const rings = marks.filter((m) => m.kind === 'circle');
    const corners = cone.segments.map((s) => (s.kind === 'line' ? s.from : ([0, 0] as const)));
    const ringX = rings[0]!.centre[0];
    const nearest = Math.min(...corners.map((p) => Math.abs(p[0] - ringX)));
    const facing = corners.filter((p) => Math.abs(Math.abs(p[0] - ringX) - nearest) < 1e-9);
    const height = Math.abs(facing[0]![1] - facing[1]![1]);
    const diameters = rings.map((r) => 2 * r.radiusMm).sort((a, b) => a - b);
    expect(height).toBeCloseTo(end === 'small' ? diameters[0]! : diameters[1]!, 9);
    expect(diameters[1]! / diameters[0]!).toBeCloseTo(2, 9);
  });
});
