import { memo } from 'react';
import { formatQuantity, formatRound, fromShown } from '../../../core/quantity';
import type { BenchState, DragState, Stage } from '../../state/store';
import { handlesOf } from './handles';
import { DASH, Ink, LABEL_FONT, type Pen, type Px, beside, disc, label, labelWidth, line } from './ink';
import { relationLag } from './move-point';
import { placeNames } from './name-places';
import { zoneName } from './places';
import { type Size, scaleBarMm } from './projection';
import type { StrutScene } from './scene';
import { stemHandles } from './stem-handles';
import type { Look } from './view';

// What lies over the scene: names, the marks and numbers of a drag, the scale bar.

type Held = Exclude<DragState, { kind: 'bracket' }>;

function handWords({ state, seen }: Look): string {
  const table = seen.outcome?.tables[0];
  if (!table) return state.trouble[0]?.what ?? '';
  let i = table.angleDeg.findIndex((a) => a >= state.angleDeg - 1e-9);
  if (i < 0) i = table.angleDeg.length - 1;
  const hand = table.handOpeningN[i]!;
  return Number.isNaN(hand)
    ? 'the strut can’t be there'
    : `hand ${formatQuantity(hand, 'force', state.units)} at ${state.angleDeg.toFixed(0)}°`;
}

const jointWords = (strut: StrutScene): string => {
  const worst = strut.joints.reduce((a, b) => (b.deviationDeg - b.rangeDeg > a.deviationDeg - a.rangeDeg ? b : a));
  return `${worst.end} joint ${worst.deviationDeg.toFixed(1)}° off square${worst.out ? ', out of range' : ''}`;
};

/** What is dragged, where it is on the screen, and what to say of it; null where it isn't there. */
function heldNow(drag: Held, look: Look): { at: Px; strut: StrutScene | undefined; words: string[] } | null {
  const { state, scene, projection } = look;
  const { resolved, units } = state;
  if (drag.kind === 'stem') {
    const strut = scene.struts.get(drag.strut);
    const end = resolved.struts.find((s) => s.id === drag.strut)?.ends[drag.end];
    const at = stemHandles(resolved, scene, state.sheet.pxPerMm).find(
      (h) => h.strut === drag.strut && h.end === drag.end && h.what === drag.what,
    )?.at;
    if (!strut || !end || !at) return null;
    const angle = (v: number | undefined): string => formatQuantity(v ?? 0, 'angle', units);
    const turn = `azimuth ${angle(end.azimuthDeg)}   tilt ${angle(end.tiltDeg)}`;
    return { at: look.at(at), strut, words: [turn, jointWords(strut)] };
  }
  const now = scene.posed.get(drag.pointId);
  if (!now) return null;
  const f = (v: number): string => formatQuantity(v, 'length', units);
  const owner = resolved.struts.find((s) => s.base === drag.pointId || s.lid === drag.pointId);
  const strut = owner && scene.struts.get(owner.id);
  const axis = ['X', 'Y', 'Z'];
  const words = [projection.right, projection.up].map((k) => `${axis[k]} ${f(now[k])}`).join('   ');
  const lag = relationLag(state.history.mark, drag.pointId);
  return {
    at: look.at(now),
    strut,
    words: [
      words,
      ...(lag && !lag.held
        ? ['what must hold can’t hold there']
        : lag && lag.lagMm > 0.05
          ? [`held by what must hold, ${f(lag.lagMm)} short of the pointer`]
          : []),
      ...(strut ? [`length ${f(strut.lengthMm)}   ${jointWords(strut)}`] : []),
    ],
  };
}

/** While something is dragged: projection lines across the views, the ghost of its start, and live numbers. */
export const DragMarks = memo(() => (
  <Ink
    name="drag"
    draw={(pen, look) => {
      const { state, size, palette: c, projection } = look;
      const { drag } = state;
      // a bracket's parts are dragged in a view of their own, with numbers of their own
      if (!drag || drag.kind === 'bracket') return;
      const held = heldNow(drag, look);
      if (!held) return;
      const [x, y] = held.at;
      if (drag.kind === 'point') {
        line(pen, [[x, 0], [x, size.height]], c.accent, 1, DASH.hidden); // prettier-ignore
        line(pen, [[0, y], [size.width, y]], c.accent, 1, DASH.hidden); // prettier-ignore
      }
      const from = look.at(drag.from);
      disc(pen, from, 6, null, c.soft, 1.5);
      line(pen, [from, [x, y]], c.soft, 1);
      disc(pen, [x, y], 11, null, c.accent, 2);
      if (drag.plane !== projection.plane) return;
      const words = [...held.words, handWords(look)];
      // the words keep clear of the length bar at the foot
      const top = y > size.height * 0.45 ? y - 20 * words.length - 4 : y + 40;
      words.forEach((text, k) => beside(pen, text, x, top + 20 * k, look));
      if (held.strut && drag.kind === 'point') drawLengthBar(pen, held.strut, look);
    }}
  />
));

/** The strut's present length within its stroke. */
function drawLengthBar(pen: Pen, strut: StrutScene, { state, size, palette: c }: Look): void {
  const [x0, x1, y] = [70, size.width - 70, size.height - 46];
  const width = x1 - x0;
  if (width < 80) return;
  pen.fillStyle = c.paper;
  pen.globalAlpha = 0.85;
  pen.fillRect(x0 - 60, y - 14, width + 120, 28);
  pen.globalAlpha = 1;
  pen.strokeStyle = c.ink;
  pen.lineWidth = 1.5;
  pen.strokeRect(x0, y - 5, width, 10);
  const at = x0 + (width * (strut.lengthMm - strut.compressedMm)) / strut.strokeMm;
  const x = Math.min(Math.max(at, x0 - 12), x1 + 12);
  pen.fillStyle = strut.inside ? c.good : c.bad;
  pen.fillRect(x0, y - 5, Math.min(Math.max(x - x0, 0), width), 10);
  line(pen, [[x, y - 11], [x, y + 11]], strut.inside ? c.ink : c.bad, 3); // prettier-ignore
  const end = (mm: number, px: number, align: CanvasTextAlign): void => {
    pen.textAlign = align;
    pen.fillText(formatQuantity(mm, 'length', state.units, 0), px, y);
  };
  pen.fillStyle = c.ink;
  pen.font = LABEL_FONT;
  pen.textBaseline = 'middle';
  end(strut.compressedMm, x0 - 6, 'right');
  end(strut.extendedMm, x1 + 6, 'left');
}

const named = (state: BenchState, hovered: string | null): ReadonlySet<string | null> =>
  new Set([state.selection?.kind === 'point' ? state.selection.id : null, hovered]);

/** Stages where every point that can be dragged is named, as far as there is room; elsewhere the one that is asked for. */
const NAMED: readonly Stage[] = ['measure', 'weigh', 'place'];
/** What stands in the corners of a view: its name, its buttons, the scale bar; px. */
const corners = ({ width, height }: Size) => [
  { left: 0, top: 0, right: 120, bottom: 26 },
  { left: width - 130, top: 0, right: width, bottom: 32 },
  { left: 0, top: height - 28, right: 230, bottom: height },
];

/** The names of points beside them; ringed, those of the chosen one and of the one under the pointer. */
export const NameTags = memo(() => (
  <Ink
    name="names"
    draw={(pen, look) => {
      const { state, scene, hovered, palette, size } = look;
      if (state.drag) return;
      const wanted = named(state, hovered);
      const every = NAMED.includes(state.stage);
      const points = handlesOf(state.resolved, state.stage === 'weigh' ? 'weigh' : 'place').flatMap((h) => {
        const p = scene.posed.get(h.pointId);
        const must = wanted.has(h.pointId);
        if (!p || !(must || (every && h.role !== 'zone'))) return [];
        const [x, y] = look.at(p);
        return { id: h.pointId, name: h.name, x, y, width: labelWidth(pen, h.name), must };
      });
      const zones = state.stage === 'place' ? state.resolved.zones : [];
      const taken = zones.flatMap(({ id }) => {
        const at = zoneName(pen, id, look);
        return at ? [{ left: at.x - 3, right: at.x + at.width + 3, top: at.y - 9, bottom: at.y + 9 }] : [];
      });
      for (const place of placeNames(points, size, [...corners(size), ...taken])) {
        const { x, y, width, name, must } = points.find((p) => p.id === place.id)!;
        // a thin leader to where the name begins or ends
        const end = Math.min(Math.max(x, place.x - 3), place.x + width + 3);
        line(pen, [[x, y], [end, place.y]], palette.soft, 0.8); // prettier-ignore
        if (must) disc(pen, [x, y], 11, null, palette.accent, 1.5);
        label(pen, name, place.x, place.y, palette);
      }
    }}
  />
));

export const ScaleBar = memo(() => (
  <Ink
    name="scale bar"
    draw={(pen, { state, size, palette: c }) => {
      const mm = scaleBarMm(state.sheet.pxPerMm, Math.min(140, size.width / 3), fromShown(1, 'length', state.units));
      const px = mm * state.sheet.pxPerMm;
      const [x, y] = [12, size.height - 14];
      for (let k = 0; k < 4; k++) {
        pen.fillStyle = k % 2 === 0 ? c.ink : c.paper;
        pen.fillRect(x + (px * k) / 4, y - 3, px / 4, 5);
      }
      pen.strokeStyle = c.ink;
      pen.lineWidth = 1;
      pen.strokeRect(x, y - 3, px, 5);
      label(pen, formatRound(mm, 'length', state.units), x + px + 8, y, c);
    }}
  />
));
