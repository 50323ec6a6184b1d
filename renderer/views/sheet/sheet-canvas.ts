import Konva from 'konva';
import { pixelToMm } from '../../../core/photo';
import { formatRound } from '../../../core/quantity';
import type { Vec3 } from '../../../core/space';
import type { Host } from '../../host/host';
import { PLACES, traceUnderlay } from '../../../core/start';
import { STEP_WORDS } from '../../photo/wizard';
import type { Plane } from '../../state/planes';
import { type BenchState, bench } from '../../state/store';
import { type ViewFace, drawBeside, drawDrag, drawStemHandle } from './drag-overlay';
import * as ink from './draw';
import { drawReadings } from './draw-readings';
import { handlesOf } from './handles';
import { type Palette, readPalette } from './palette';
import { PROJECTIONS, type Projection, type Size, scaleBarMm, toPx } from './projection';
import type { Scene } from './scene';
import { drawPulls } from './pull-arrows';
import { sceneOf } from './scene-cache';
import { drawWeighed } from './scene-weigh';
import { drawMark, drawPhotos } from './scene-photo';
import { drawRelations } from './scene-relations-draw';
import { stemHandles } from './stem-handles';

/** One drawn view: a Konva stage with the photo underlay and the ink over it. Holds no state of the job. */
export class SheetCanvas {
  readonly projection: Projection;
  size: Size = { width: 0, height: 0 };
  private readonly stage: Konva.Stage;
  private readonly photos: Konva.Layer;
  private readonly inkLayer: Konva.Layer;
  palette: Palette;
  private theme = '';
  private photoKey: unknown[] = [];
  /** Handle under the pointer, for its label. */
  hovered: string | null = null;

  constructor(
    private readonly element: HTMLDivElement,
    plane: Plane,
    readonly host: Host,
  ) {
    this.projection = PROJECTIONS[plane];
    this.palette = readPalette(element);
    this.stage = new Konva.Stage({ container: element, width: 10, height: 10, listening: false });
    this.photos = new Konva.Layer({ listening: false });
    this.inkLayer = new Konva.Layer({ listening: false });
    this.stage.add(this.photos, this.inkLayer);
    this.photos.add(
      new Konva.Shape({ listening: false, sceneFunc: (context) => drawPhotos(context, bench.getState(), this) }),
    );
    this.inkLayer.add(
      new Konva.Shape({ listening: false, sceneFunc: (context) => this.drawInk(context as unknown as ink.Pen) }),
    );
  }

  private face(): ViewFace {
    return { projection: this.projection, size: this.size, palette: this.palette };
  }

  destroy(): void {
    this.stage.destroy();
  }

  resize(width: number, height: number): void {
    if (width === this.size.width && height === this.size.height) return;
    this.size = { width, height };
    this.stage.size({ width: Math.max(1, width), height: Math.max(1, height) });
    this.photoKey = [];
    this.draw();
  }

  px(p: Vec3, state: BenchState = bench.getState()): [number, number] {
    return toPx(p, this.projection, state.sheet, this.size);
  }

  /** Draws what has changed; the photo layer only when something of it has. */
  draw(photosToo = false): void {
    const state = bench.getState();
    if (state.theme !== this.theme) {
      this.theme = state.theme;
      this.palette = readPalette(this.element);
    }
    const key = [
      state.sheet,
      state.resolved.photos,
      state.wizard,
      state.tool,
      state.theme,
      state.selection?.kind === 'photo' ? state.selection : null,
      state.resolved.observations,
    ];
    if (photosToo || key.some((part, i) => part !== this.photoKey[i])) {
      this.photoKey = key;
      this.photos.draw();
    }
    this.inkLayer.draw();
  }

  /** Place on paper (mm right, mm up; right already signed) → view pixels. */
  paperPx(mm: readonly [number, number], state: BenchState): [number, number] {
    const { right, rightSign, up } = this.projection;
    return [
      this.size.width / 2 + (mm[0] - rightSign * state.sheet.centre[right]) * state.sheet.pxPerMm,
      this.size.height / 2 - (mm[1] - state.sheet.centre[up]) * state.sheet.pxPerMm,
    ];
  }

  /** View pixels → place on paper, mm. */
  paperMm(x: number, y: number, state: BenchState = bench.getState()): [number, number] {
    const { right, rightSign, up } = this.projection;
    return [
      rightSign * state.sheet.centre[right] + (x - this.size.width / 2) / state.sheet.pxPerMm,
      state.sheet.centre[up] - (y - this.size.height / 2) / state.sheet.pxPerMm,
    ];
  }

  private drawInk(pen: ink.Pen): void {
    const state = bench.getState();
    if (state.wizard) {
      if (this.projection.plane === 'side') this.drawWizard(pen, state);
    } else {
      this.drawScene(pen, state, sceneOf(state));
    }
    this.drawScaleBar(pen, state);
  }

  private drawWizard(pen: ink.Pen, state: BenchState): void {
    const w = state.wizard!;
    const u = traceUnderlay(w);
    const at = (px: readonly [number, number]): [number, number] => this.paperPx(pixelToMm(u, px), state);
    if (w.scaleFrom && w.scaleTo) ink.drawLine(pen, [at(w.scaleFrom), at(w.scaleTo)], this.palette.accent, 2);
    for (const mark of [w.levelFrom, w.levelTo, w.scaleFrom, w.scaleTo])
      if (mark) drawMark(pen, at(mark), this.palette);
    const { hinge, edge, base, lid } = w.marks;
    if (hinge && edge) ink.drawLine(pen, [at(hinge), at(edge)], this.palette.ink, 2.5);
    if (base && lid) ink.drawLine(pen, [at(base), at(lid)], this.palette.ink, 4);
    for (const place of PLACES) {
      const px = w.marks[place];
      if (!px) continue;
      const [x, y] = at(px);
      drawMark(pen, [x, y], this.palette);
      ink.drawLabel(pen, STEP_WORDS[place].name, x + 12, y - 12, this.palette);
    }
  }

  private drawScene(pen: ink.Pen, state: BenchState, scene: Scene): void {
    const c = this.palette;
    const at = (p: Vec3): [number, number] => toPx(p, this.projection, state.sheet, this.size);
    const selected = state.selection;
    const chosen = (id: string): boolean => selected?.kind === 'point' && selected.id === id;
    pen.lineJoin = 'round';
    ink.drawTraces(pen, scene, at, c);
    ink.drawObstacles(pen, scene, at, c);
    ink.drawLid(pen, scene, at, c);
    drawReadings(pen, state, scene, at, this.face());
    for (const [id, p] of scene.posed)
      if (state.resolved.outline.includes(id)) ink.drawCorner(pen, at(p), chosen(id), c);
    for (const strut of scene.struts) {
      if (state.stage === 'joints' || scene.obstacles.length > 0) ink.drawSweep(pen, strut, at, c);
      if (state.stage === 'joints' || state.stage === 'bracket')
        for (const joint of strut.joints) ink.drawMount(pen, joint, at, this.projection, c);
      const held = selected?.kind === 'strut' && selected.id === strut.id;
      ink.drawStrut(pen, strut, at, this.projection, state.sheet.pxPerMm, held, c);
    }
    for (const mass of scene.masses)
      ink.drawMass(pen, mass, at, chosen(mass.pointId) || (selected?.kind === 'mass' && selected.id === mass.id), c);
    const grip = scene.posed.get(scene.gripId);
    if (grip) ink.drawGrip(pen, at(grip), chosen(scene.gripId), c);
    if (state.stage === 'joints' && !state.wizard)
      for (const h of stemHandles(state.resolved, scene, state.sheet.pxPerMm)) drawStemHandle(pen, h, at, c);
    drawRelations(pen, state, scene, this.face());
    if (state.stage === 'weigh') drawWeighed(pen, state, scene, this.face());
    if (state.stage === 'strut' && !state.drag) drawPulls(pen, state, scene, this.face());
    if (state.drag) drawDrag(pen, state, scene, this.face());
    else this.drawNames(pen, state, scene, at);
  }

  private drawNames(pen: ink.Pen, state: BenchState, scene: Scene, at: (p: Vec3) => [number, number]): void {
    const wanted = new Set<string>();
    if (state.selection?.kind === 'point') wanted.add(state.selection.id);
    if (this.hovered) wanted.add(this.hovered);
    for (const handle of handlesOf(state.resolved, 'place')) {
      if (!wanted.has(handle.pointId)) continue;
      const p = scene.posed.get(handle.pointId);
      if (!p) continue;
      const [x, y] = at(p);
      ink.drawDisc(pen, [x, y], 11, null, this.palette.accent, 1.5);
      drawBeside(pen, handle.name, x, y, this.face());
    }
  }

  private drawScaleBar(pen: ink.Pen, state: BenchState): void {
    const mm = scaleBarMm(state.sheet.pxPerMm, Math.min(140, this.size.width / 3));
    const px = mm * state.sheet.pxPerMm;
    const [x, y] = [12, this.size.height - 14];
    const c = this.palette;
    for (let k = 0; k < 4; k++) {
      pen.fillStyle = k % 2 === 0 ? c.ink : c.paper;
      pen.fillRect(x + (px * k) / 4, y - 3, px / 4, 5);
    }
    pen.strokeStyle = c.ink;
    pen.lineWidth = 1;
    pen.strokeRect(x, y - 3, px, 5);
    ink.drawLabel(pen, formatRound(mm, 'length', state.units), x + px + 8, y, c);
  }
}
