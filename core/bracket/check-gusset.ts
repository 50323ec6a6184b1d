import { fixingWhere } from './check-numbers';
import { type IssueList, mm } from './issue';
import type { BracketSpec } from './kinds';
import { bendTakesMm } from './layout';
import { bolted, spannerRoomMm } from './room';
import type { Hardware } from './tables';

/** Gussets: on the bracket at all, clear of each other, of the stud, and of fixings and their spanner. */
export function checkGusset(
  spec: BracketSpec,
  screwHw: Hardware | null,
  studHw: Hardware | null,
  list: IssueList,
): void {
  const { gusset: g, thicknessMm: t, insideRadiusMm: r, studHole } = spec;
  if (!g) return;
  for (const [key, long] of [
    ['alongMm', g.alongMm],
    ['upMm', g.upMm],
  ] as const)
    if (long <= r + 1e-9)
      list.fails(
        'gusset-small',
        ['gusset', key],
        `The gusset’s leg of ${mm(long)} ends in the bend’s radius (${mm(r)}): nothing of it is left to weld.`,
        `Make it well over ${mm(r)}.`,
      );
  const room = { alongMm: spec.baseLegMm - t, upMm: spec.uprightLegMm - t };
  for (const key of ['alongMm', 'upMm'] as const)
    if (g[key] > room[key] + 1e-9)
      list.fails(
        'gusset-over',
        ['gusset', key],
        `The gusset’s leg of ${mm(g[key])} sticks out over the bracket’s own leg.`,
        `At most ${mm(room[key])} here.`,
      );
  const half = g.thicknessMm / 2;
  const risen = Math.max(0, t + g.upMm - bendTakesMm(spec)) / (spec.uprightLegMm - bendTakesMm(spec));
  const halfUp = (spec.baseWidthMm + (spec.topWidthMm - spec.baseWidthMm) * risen) / 2;
  if (g.acrossMm + half > Math.min(halfUp, spec.baseWidthMm / 2) + 1e-9)
    list.fails(
      'gusset-side',
      ['gusset', 'acrossMm'],
      'The gusset stands out over the side of the upright.',
      `Set it at most ${mm(Math.max(0, Math.min(halfUp, spec.baseWidthMm / 2) - half))} from the centre line.`,
    );
  if (g.count === 2 && g.acrossMm < half)
    list.fails(
      'gusset-side',
      ['gusset', 'acrossMm'],
      'The two gussets stand in each other.',
      `Set them at least ${mm(half)} from the centre line.`,
    );
  const places = g.count === 1 ? [0] : [-g.acrossMm, g.acrossMm];
  const nut = Math.max(studHole.diameterMm, studHw?.washerDiameterMm ?? 0) / 2;
  for (const across of places) {
    const beside = Math.abs(studHole.acrossMm - across) - half;
    const top = t + g.upMm;
    if (beside < studHole.diameterMm / 2 && studHole.heightMm - studHole.diameterMm / 2 < top)
      list.fails(
        'gusset-stud',
        ['gusset', 'upMm'],
        'The gusset stands in front of the stud’s hole.',
        `Keep its upright leg under ${mm(studHole.heightMm - nut - t)}, or set two gussets apart.`,
      );
    else if (beside < nut && studHole.heightMm - nut < top)
      list.fails(
        'gusset-nut',
        ['gusset', 'upMm'],
        `The stud’s ${spec.ballSide === 'inside' ? 'collar has' : 'nut and washer have'} no room beside the gusset.`,
        `Keep its upright leg under ${mm(studHole.heightMm - nut - t)}, or set two gussets apart.`,
      );
    const need = Math.max(screwHw?.acrossCornersMm ?? 0, ...spec.fixings.map((f) => f.diameterMm)) / 2;
    spec.fixings.forEach((f, i) => {
      const [reachX, reachY] = [
        (Math.abs(Math.cos((f.slotDeg * Math.PI) / 180)) * f.slotMm) / 2,
        (Math.abs(Math.sin((f.slotDeg * Math.PI) / 180)) * f.slotMm) / 2,
      ];
      const aside = Math.abs(f.acrossMm - across) - half - reachY;
      const ahead = spec.baseLegMm - t - g.alongMm - f.fromEndMm - reachX;
      const away = Math.hypot(Math.max(0, aside), Math.max(0, ahead));
      if (away < need)
        list.fails(
          'gusset-fixing',
          fixingWhere(spec, i, 'acrossMm'),
          'A fixing’s hole or head has no room beside the gusset.',
          'Move the hole away, make the gusset shorter, or set it elsewhere.',
        );
      else if (screwHw && bolted(spec) && away < spannerRoomMm(screwHw.acrossFlatsMm))
        list.watch(
          'gusset-spanner',
          fixingWhere(spec, i, 'acrossMm'),
          `A spanner has ${mm(away)} between fixing and gusset; ${mm(spannerRoomMm(screwHw.acrossFlatsMm))} is the usual room for a socket (common practice).`,
          'Move the hole away or make the gusset shorter.',
        );
    });
  }
}
