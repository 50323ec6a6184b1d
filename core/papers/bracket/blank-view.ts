import {
  blanks,
  bodyLayout,
  type BracketSpec,
  type Contour,
  holeContour,
  segmentEnd,
  segmentStart,
  type Point2,
  isPinned,
} from '../../bracket';
import { type Rad, cos, rad, sin } from '../../space';
import type { Datum, HoleSite } from './hole-sizes';
import { sharpCorners, sizeCorners, sizeTop, tapers } from './outline-sizes';
import { type DrawnView, finish, fixingSizes, type ViewWords } from './views';
import { Sketch } from './view-marks';
import { leaderOf } from './wanted';

/** Developed lengths hang on the shop's own tools: a tenth is all they can mean. */
const DEVELOPED_DECIMALS = 1;

/** The blank of a bent body, inside of the bends up: outline, holes, bend lines with their notes. */
export function blankView(spec: BracketSpec, scale: number, { fastening }: ViewWords): DrawnView {
  const sketch = new Sketch(scale);
  const body = blanks(spec)[0]!;
  const channel = isPinned(spec);
  const half = spec.baseWidthMm / 2;
  const length = bodyLayout(spec).lengthMm;
  sketch.loop(body.outline);
  for (const bend of body.bends) sketch.pen.line('bend', bend.from, bend.to);
  sketch.centre([0, 0], [0, length]);
  const sites: HoleSite[] = body.holes
    .filter((h) => h.role === 'fixing')
    .map((h) => ({
      id: h.id,
      at: h.centre,
      diameterMm: h.diameterMm,
      slotMm: h.slotMm,
      slotRad: rad(h.slotMm > 0 ? ((h.slotRad % Math.PI) + Math.PI) % Math.PI : 0),
    }));
  for (const hole of body.holes)
    drawHole(sketch, hole.centre, hole.diameterMm, hole.slotMm, hole.slotRad, body.afterBending.includes(hole.id));
  if (tapers(spec) && spec.topCornerRadiusMm > 0)
    sharpCorners(sketch, body.outline, [
      [-spec.topWidthMm / 2, length],
      [spec.topWidthMm / 2, length],
    ]);
  sketch.size(
    'base-width',
    'x',
    channel ? [-half, body.bends[0]!.from[1]] : [-half, spec.baseCornerRadiusMm],
    channel ? [half, body.bends[0]!.from[1]] : [half, spec.baseCornerRadiusMm],
    -1,
    {
      gapsMm: [2, 2],
    },
  );
  sizeTop(spec, sketch, { middle: 0, end: length, side: 1 });
  const corner = leftmostAt(body.outline, 0);
  const aux = { auxiliary: true, decimals: DEVELOPED_DECIMALS };
  body.bends.forEach((bend, i) => {
    sketch.size(i === 0 ? 'bend-line' : 'bend-line-2', 'y', corner, bend.from, -1, { ...aux, gapsMm: [2, 2] });
    if (tapers(spec) && !(channel && i === 0))
      sketch.size('taper-start', 'y', corner, [-half, bend.from[1] + bend.allowanceMm / 2], -1, {
        ...aux,
        gapsMm: [2, 2],
      });
  });
  const studs = body.holes.filter((h) => h.role !== 'fixing').sort((a, b) => a.centre[1] - b.centre[1]);
  studs.forEach((hole, i) => {
    const id = !channel ? 'stud-in-blank' : i === 0 ? 'pin-in-blank' : 'pin-in-blank-2';
    sketch.size(id, 'y', corner, hole.centre, -1, { ...aux, gapsMm: [2, (hole.diameterMm / 2) * scale + 3] });
  });
  sketch.size('blank-length', 'y', corner, leftmostAt(body.outline, length), -1, { ...aux, gapsMm: [2, 2] });
  let rows: DrawnView['rows'] | null = null;
  if (!channel) {
    const datum: Datum = {
      edge: [-half, spec.baseCornerRadiusMm],
      end: corner,
      middle: 0,
      ...{ origin: [0, 0], up: 1 },
      acrossSide: -1,
      alongSide: -1,
    };
    rows = fixingSizes(sketch, sites, datum, fastening);
  } else {
    // folded sizes rule in the view from above: here only where to mark them out
    const along = [...new Set(sites.map((s) => Math.round(s.at[1] * 1e6) / 1e6))];
    if (along.length <= 2)
      along.forEach((v, i) => {
        const site = sites.filter((s) => Math.abs(s.at[1] - v) < 1e-5).reduce((p, q) => (q.at[0] < p.at[0] ? q : p));
        const reach = site.diameterMm + site.slotMm * Math.abs(cos(site.slotRad));
        sketch.size(`fixing-in-blank${i === 0 ? '' : `-${i + 1}`}`, 'y', corner, site.at, -1, {
          ...aux,
          gapsMm: [2, (reach / 2) * scale + 3],
        });
      });
  }
  body.bends.forEach((bend, i) => {
    const many = body.bends.length > 1;
    sketch.wanted.push(
      leaderOf(
        many ? `bend-${i + 1}` : 'bend',
        scale,
        // the radius itself shows in the side view; here it is called out where the brake's operator looks
        { of: 'radius', centre: sketch.at([0, bend.from[1]]), radiusMm: bend.insideRadiusMm * scale },
        (landing) => sketch.at([(landing[0] < 0 ? -0.8 : 0.8) * half, bend.from[1]]),
        { before: `bend ${many ? `${bend.order} ` : ''}${bend.up ? 'up' : 'down'} ${bend.angleDeg}°, R` },
      ),
    );
  });
  sizeCorners(spec, sketch, body.outline, 'blank');
  return finish('flat-pattern', sketch, 'Flat pattern, inside of the bend up', rows);
}

/** The leftmost end of a piece of the outline at a height. */
const leftmostAt = (outline: Contour, height: number): Point2 =>
  outline
    .flatMap((s) => [segmentStart(s), segmentEnd(s)])
    .filter((p) => Math.abs(p[1] - height) < 1e-6)
    .reduce((a, b) => (b[0] < a[0] ? b : a));

/** A hole of the blank; in a thin line where it is drilled after bending. */
function drawHole(
  sketch: Sketch,
  centre: Point2,
  diameterMm: number,
  slotMm: number,
  slotRad: Rad,
  afterBending: boolean,
): void {
  const r = diameterMm / 2;
  const reach = r + slotMm / 2;
  const [c, s] = [cos(slotRad), sin(slotRad)];
  const outline = holeContour({ centre, diameterMm, slotMm, slotRad });
  sketch.loop(outline, afterBending ? 'narrow' : 'visible');
  sketch.centre([centre[0] - reach * c, centre[1] - reach * s], [centre[0] + reach * c, centre[1] + reach * s]);
  sketch.centre([centre[0] + r * s, centre[1] - r * c], [centre[0] - r * s, centre[1] + r * c]);
}

/** The gusset alone, with its own sizes; its thickness stands in the view from above. */
export function gussetView(spec: BracketSpec, scale: number): DrawnView {
  const sketch = new Sketch(scale);
  const gusset = blanks(spec)[1]!;
  const { alongMm, upMm } = spec.gusset!;
  const snip = spec.insideRadiusMm;
  sketch.loop(gusset.outline);
  sketch.size('gusset-along', 'x', [0, snip], [alongMm, 0], -1);
  sketch.size('gusset-up', 'y', [snip, 0], [0, upMm], -1);
  if (snip > 0) {
    sketch.size('gusset-snip', 'x', [0, snip], [snip, 0], -1);
    sketch.size('gusset-snip-up', 'y', [snip, 0], [0, snip], -1);
  }
  return finish('gusset', sketch, gusset.quantity > 1 ? `Gusset, ${gusset.quantity} off` : 'Gusset, 1 off');
}
