import { DirectionalLight, HemisphereLight, OrthographicCamera, Scene, WebGLRenderer } from 'three';
import { OrbitControls } from 'three/addons/controls/OrbitControls.js';
import { Billboards, sightRing } from './billboards';
import { BracketPart } from './bracket-part';
import { GhostPart } from './ghost-part';
import { GroundPart } from './ground-part';
import { Bodies, Inks } from './ink';
import { LidPart } from './lid-part';
import type { InkLines } from './lines';
import { MarksPart } from './marks-part';
import type { StrutPart } from './strut-part';
import { Triad } from './triad';

/** Everything that needs a graphics context. */
export interface Stage {
  readonly canvas: HTMLCanvasElement;
  readonly renderer: WebGLRenderer;
  readonly controls: OrbitControls;
  readonly scene: Scene;
  readonly camera: OrthographicCamera;
  readonly inks: Inks;
  readonly bodies: Bodies;
  readonly billboards: Billboards;
  readonly ghosts: GhostPart;
  readonly ground: GroundPart;
  readonly lid: LidPart;
  readonly marks: MarksPart;
  readonly brackets: BracketPart;
  readonly triad: Triad;
  readonly sights: InkLines[];
  readonly struts: StrutPart[];
}

/** A canvas in the host with everything on it; null where there is no WebGL. `redraw` is called when the eye moves. */
export function buildStage(host: HTMLElement, redraw: () => void): Stage | null {
  const canvas = document.createElement('canvas');
  const context = canvas.getContext('webgl2', { antialias: true, alpha: false, stencil: false });
  if (!context) return null;
  let renderer: WebGLRenderer;
  try {
    renderer = new WebGLRenderer({ canvas, context });
  } catch {
    // a context that is there but can't run three is no context for us: the note says so
    return null;
  }
  renderer.autoClear = false;
  Object.assign(canvas.style, { display: 'block', width: '100%', height: '100%', outlineOffset: '-2px' });
  canvas.tabIndex = 0;
  canvas.setAttribute('role', 'img');
  host.append(canvas);
  const scene = new Scene();
  const camera = new OrthographicCamera(-1, 1, 1, -1, 1, 1e6);
  camera.up.set(0, 0, 1);
  camera.position.set(-3000, -3000, 2000);
  const controls = new OrbitControls(camera, canvas);
  controls.zoomToCursor = true;
  controls.addEventListener('change', redraw);
  const sun = new DirectionalLight(0xffffff, 1.6);
  sun.position.set(-0.4, -0.7, 1);
  scene.add(new HemisphereLight(0xffffff, 0x999999, 2.2), sun);
  const inks = new Inks();
  const bodies = new Bodies();
  const billboards = new Billboards();
  const ghosts = new GhostPart(inks);
  const ground = new GroundPart(inks);
  const lid = new LidPart(inks);
  const marks = new MarksPart(inks, bodies);
  const brackets = new BracketPart(inks);
  const sights = [0, 1].map(() => sightRing(inks.marker));
  for (const sight of sights) {
    sight.object.visible = false;
    billboards.add(sight.object, 11);
    scene.add(sight.object);
  }
  lid.turned.add(brackets.onLid);
  scene.add(ground.group, ghosts.group, lid.group, marks.group, brackets.onBase);
  const triad = new Triad(inks);
  const struts: StrutPart[] = [];
  return {
    ...{ canvas, renderer, controls, scene, camera, inks, bodies, billboards },
    ...{ ghosts, ground, lid, marks, brackets, triad, sights, struts },
  };
}

export function disposeStage(stage: Stage): void {
  stage.controls.dispose();
  for (const strut of stage.struts) strut.dispose();
  for (const part of [stage.ghosts, stage.ground, stage.lid, stage.marks, stage.brackets, stage.triad, ...stage.sights])
    part.dispose();
  stage.bodies.dispose();
  stage.inks.dispose();
  stage.renderer.dispose();
  stage.renderer.forceContextLoss();
  stage.canvas.remove();
}
