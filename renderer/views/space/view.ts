import { Color, Vector3 } from 'three';
import { type Vec3, asin, atan2, cos, rad, sin, toRad, toVec3 } from '../../../core/space';
import { type Figure, extentOf, figureOf, lidNormals, nearSide, spotAt } from './figure';
import { firstLook, frame, nearest } from './framing';
import { type GroundSheet, sheetUnder } from './ground-part';
import { readPalette } from './palette';
import { type Stage, buildStage, disposeStage } from './stage';
import { StrutPart } from './strut-part';
import type { View3DOptions, View3DState } from './types';
import { describeView, selectedSpots } from './words';

const NO_GRAPHICS =
  'The 3D view needs WebGL, which this browser or machine does not give. The other three views show the same job.';
const LOST = 'The graphics of the 3D view were taken away by the system. It comes back by itself as soon as it can.';
const PICK_REACH_PX = 14;
const CLICK_SLOP_PX = 4;
const MARGIN_PX = 26;

/**
 * The 3D view of the bench: draws on demand only, one frame per browser frame at most. Where there is no WebGL it says
 * so in its host and every call is a harmless no-op.
 */
export class View3D {
  private readonly stage: Stage | null;
  private readonly note: HTMLParagraphElement;
  private readonly observer: ResizeObserver;
  private state: View3DState | null = null;
  private figure: Figure | null = null;
  private sheet: GroundSheet | null = null;
  private sizeMm = 1000;
  private width = 0;
  private height = 0;
  private frameId = 0;
  private lost = false;
  private fitWanted = true;
  private looked = false;
  private pressed: { x: number; y: number } | null = null;

  constructor(
    private readonly host: HTMLElement,
    private readonly options: View3DOptions = {},
  ) {
    this.note = document.createElement('p');
    Object.assign(this.note.style, { margin: 'auto', padding: '1em', maxWidth: '32em', textAlign: 'center' });
    this.note.setAttribute('role', 'status');
    this.stage = buildStage(host, () => this.requestFrame());
    if (this.stage) this.listen(this.stage.canvas, true);
    else this.say(NO_GRAPHICS);
    this.observer = new ResizeObserver(() => this.setSize());
    this.observer.observe(host);
    this.setSize();
  }

  /** False where there is no WebGL, and while its context is lost. */
  get available(): boolean {
    return this.stage !== null && !this.lost;
  }

  /** Shows a state; only what differs from the last one is worked out again. */
  show(state: View3DState): void {
    const last = this.state;
    this.state = state;
    const stage = this.stage;
    if (!stage) return;
    if (last?.theme !== state.theme) this.recolour();
    const reshaped = last?.job !== state.job || last.outcome !== state.outcome;
    if (reshaped) this.reshape(state, last === null);
    stage.lid.traces.visible = state.showTrace;
    const moved = reshaped || last.angleDeg !== state.angleDeg || last.selected !== state.selected;
    if (moved) this.pose(state);
    if (moved || last.ghosts !== state.ghosts)
      stage.ghosts.update(this.figure!, state.ghosts, state.angleDeg, this.sizeMm);
    this.requestFrame();
  }

  /** Puts the whole travel of the job in view, from the direction it is seen from now. */
  fit(): void {
    this.fitWanted = true;
    this.requestFrame();
  }

  /** Turns the view: to the right and upward, degrees. */
  turn(rightDeg: number, upDeg: number): void {
    if (!this.stage) return;
    const { camera, controls } = this.stage;
    const arm = camera.position.clone().sub(controls.target);
    const length = arm.length();
    const around = rad(atan2(arm.y, arm.x) + toRad(rightDeg));
    const up = asin(arm.z / length) + toRad(upDeg);
    const held = rad(Math.min(Math.max(up, -1.5), 1.5));
    arm.set(cos(held) * cos(around), cos(held) * sin(around), sin(held)).multiplyScalar(length);
    camera.position.copy(controls.target).add(arm);
    controls.update();
    this.requestFrame();
  }

  /** Zooms about the middle; over 1 is nearer. */
  zoomBy(factor: number): void {
    if (!this.stage) return;
    const { camera } = this.stage;
    camera.zoom = Math.min(Math.max(camera.zoom * factor, 1e-4), 100);
    camera.updateProjectionMatrix();
    this.requestFrame();
  }

  /** Takes up the host's size; also called by a ResizeObserver. */
  setSize(): void {
    const stage = this.stage;
    const width = this.host.clientWidth;
    const height = this.host.clientHeight;
    if (!stage || width === 0 || height === 0) return;
    const ratio = Math.min(window.devicePixelRatio || 1, 2);
    if (width === this.width && height === this.height && ratio === stage.renderer.getPixelRatio()) return;
    const grown = this.width > 0 ? Math.min(width / this.width, height / this.height) : 1;
    this.width = width;
    this.height = height;
    stage.inks.sizePx.set(width, height);
    stage.renderer.setPixelRatio(ratio);
    stage.renderer.setSize(width, height, false);
    Object.assign(stage.camera, { left: -width / 2, right: width / 2, top: height / 2, bottom: -height / 2 });
    stage.camera.zoom *= grown;
    stage.camera.updateProjectionMatrix();
    this.drawNow();
  }

  dispose(): void {
    this.observer.disconnect();
    cancelAnimationFrame(this.frameId);
    this.note.remove();
    const stage = this.stage;
    if (!stage) return;
    this.listen(stage.canvas, false);
    disposeStage(stage);
  }

  private say(text: string | null): void {
    this.note.textContent = text ?? '';
    if (text === null) this.note.remove();
    else this.host.append(this.note);
  }

  private recolour(): void {
    const stage = this.stage!;
    const palette = readPalette(this.host, this.state!.theme);
    const paper = new Color(palette.paper);
    const ink = new Color(palette.ink);
    stage.inks.recolour(palette);
    stage.marks.recolour(paper.toArray(), ink.toArray());
    stage.brackets.edgeMaterial.color.copy(ink);
    stage.renderer.setClearColor(paper);
    this.note.style.color = palette.ink;
  }

  /** After a new job or outcome. The scene's size is settled once a fit, so that marks don't breathe during a drag. */
  private reshape(state: View3DState, first: boolean): void {
    const stage = this.stage!;
    const figure = (this.figure = figureOf(state.job, state.outcome));
    const extent = extentOf(figure);
    if (first || !this.sheet) this.settle(extent);
    const sheet = sheetUnder(extent);
    if (sheetsDiffer(sheet, this.sheet)) stage.ground.reshape(sheet);
    this.sheet = sheet;
    stage.lid.reshape(figure, this.sizeMm);
    stage.brackets.reshape(state.job);
    while (stage.struts.length < figure.struts.length) {
      const part = new StrutPart(stage.inks, stage.bodies, stage.billboards);
      stage.struts.push(part);
      stage.scene.add(part.group);
    }
  }

  private settle(extent: readonly Vec3[]): void {
    const span = (k: 0 | 1 | 2): number => Math.max(...extent.map((p) => p[k])) - Math.min(...extent.map((p) => p[k]));
    const size = Math.hypot(span(0), span(1), span(2));
    this.sizeMm = Number.isFinite(size) && size > 1 ? size : 1000;
  }

  private pose(state: View3DState): void {
    const stage = this.stage!;
    const figure = this.figure!;
    const chosen = selectedSpots(state.job, state.selected);
    stage.lid.pose(figure, state.angleDeg, this.sheet!.z);
    stage.marks.update(state.job, figure, state.angleDeg, this.sizeMm);
    stage.struts.forEach((part, i) => {
      const strut = figure.struts[i];
      part.group.visible = strut !== undefined;
      if (strut) part.update(figure, strut, state.angleDeg, this.sizeMm * 0.048, strut.id === state.selected);
    });
    stage.sights.forEach((sight, i) => {
      const spot = figure.spots.get(chosen[i] ?? '');
      sight.object.visible = spot !== undefined;
      if (spot) sight.object.position.set(...spotAt(figure, spot, state.angleDeg));
    });
    const words = describeView(state);
    if (stage.canvas.getAttribute('aria-label') !== words) stage.canvas.setAttribute('aria-label', words);
  }

  private readonly requestFrame = (): void => {
    if (this.frameId === 0 && this.available) this.frameId = requestAnimationFrame(this.drawNow);
  };

  private readonly drawNow = (): void => {
    cancelAnimationFrame(this.frameId);
    this.frameId = 0;
    const stage = this.stage;
    if (!stage || !this.available || !this.figure || this.width === 0) return;
    if (this.fitWanted) this.fitNow();
    const { renderer, camera } = stage;
    stage.billboards.face(camera);
    renderer.clear();
    renderer.render(stage.scene, camera);
    stage.triad.draw(renderer, camera);
  };

  private fitNow(): void {
    this.fitWanted = false;
    const { camera, controls } = this.stage!;
    const figure = this.figure!;
    const { z, min, max } = this.sheet!;
    const points = extentOf(figure);
    this.settle(points);
    for (const x of [min[0], max[0]]) for (const y of [min[1], max[1]]) points.push([x, y, z]);
    if (!this.looked) {
      this.looked = true;
      camera.position.set(...firstLook(lidNormals(figure), nearSide(figure))).add(controls.target);
      camera.lookAt(controls.target);
    }
    camera.updateMatrixWorld();
    const right = toVec3(new Vector3().setFromMatrixColumn(camera.matrixWorld, 0).toArray());
    const up = toVec3(new Vector3().setFromMatrixColumn(camera.matrixWorld, 1).toArray());
    const { zoom, target } = frame(points, { right, up }, this.width, this.height, MARGIN_PX);
    const arm = camera.position
      .clone()
      .sub(controls.target)
      .setLength(this.sizeMm * 6);
    controls.target.set(...target);
    camera.position.copy(controls.target).add(arm);
    camera.near = this.sizeMm * 0.1;
    camera.far = this.sizeMm * 14;
    camera.zoom = zoom;
    camera.updateProjectionMatrix();
    controls.update();
    // marks and dashes go with the scene's size
    this.reshape(this.state!, true);
    this.pose(this.state!);
  }

  private pointUnder(x: number, y: number): string | null {
    if (!this.figure || !this.state) return null;
    const ids: string[] = [];
    const places: { x: number; y: number; depth: number }[] = [];
    const v = new Vector3();
    for (const spot of this.figure.spots.values()) {
      v.set(...spotAt(this.figure, spot, this.state.angleDeg)).project(this.stage!.camera);
      ids.push(spot.id);
      places.push({ x: ((v.x + 1) / 2) * this.width, y: ((1 - v.y) / 2) * this.height, depth: (v.z + 1) / 2 });
    }
    return ids[nearest(places, x, y, PICK_REACH_PX)] ?? null;
  }

  private listen(canvas: HTMLCanvasElement, on: boolean): void {
    const how = on ? 'addEventListener' : 'removeEventListener';
    canvas[how]('webglcontextlost', this.onLost);
    canvas[how]('webglcontextrestored', this.onRestored);
    canvas[how]('pointerdown', this.onDown as EventListener);
    canvas[how]('pointermove', this.onMove as EventListener);
    canvas[how]('pointerup', this.onUp as EventListener);
    canvas[how]('keydown', this.onKey as EventListener);
    canvas[how]('dblclick', this.onDouble);
  }

  private readonly onLost = (event: Event): void => {
    // without this the browser never gives it back
    event.preventDefault();
    this.lost = true;
    this.stage!.canvas.style.display = 'none';
    this.say(LOST);
  };

  private readonly onRestored = (): void => {
    this.lost = false;
    this.stage!.canvas.style.display = 'block';
    this.say(null);
    if (this.state) this.recolour();
    this.requestFrame();
  };

  private readonly onDown = (event: PointerEvent): void => {
    this.pressed = event.button === 0 ? { x: event.clientX, y: event.clientY } : null;
  };

  private readonly onMove = (event: PointerEvent): void => {
    if (event.buttons !== 0 || !this.options.onPick) return;
    const under = this.pointUnder(event.offsetX, event.offsetY);
    this.stage!.canvas.style.cursor = under ? 'pointer' : 'grab';
  };

  private readonly onUp = (event: PointerEvent): void => {
    const from = this.pressed;
    this.pressed = null;
    if (!from || Math.hypot(event.clientX - from.x, event.clientY - from.y) > CLICK_SLOP_PX) return;
    const under = this.pointUnder(event.offsetX, event.offsetY);
    if (under) this.options.onPick?.(under);
  };

  private readonly onDouble = (event: Event): void => {
    const mouse = event as MouseEvent;
    if (this.pointUnder(mouse.offsetX, mouse.offsetY) === null) this.fit();
  };

  /** Plain arrows stay free for nudging what is selected; with Ctrl they turn the view. */
  private readonly onKey = (event: KeyboardEvent): void => {
    const step = { ArrowLeft: [-5, 0], ArrowRight: [5, 0], ArrowUp: [0, 5], ArrowDown: [0, -5] }[event.key];
    if (step && event.ctrlKey) this.turn(step[0]!, step[1]!);
    else if (event.key === '+' || event.key === '=') this.zoomBy(1.15);
    else if (event.key === '-') this.zoomBy(1 / 1.15);
    else if (event.key === 'Home') this.fit();
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
}

const sheetsDiffer = (a: GroundSheet, b: GroundSheet | null): boolean =>
  !b ||
  a.z !== b.z ||
  a.stepMm !== b.stepMm ||
  [0, 1].some((k) => a.min[k as 0 | 1] !== b.min[k as 0 | 1] || a.max[k as 0 | 1] !== b.max[k as 0 | 1]);
