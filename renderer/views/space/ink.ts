import {
  type BufferGeometry,
  Color,
  CylinderGeometry,
  BackSide,
  DoubleSide,
  LatheGeometry,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
  type Object3D,
  Quaternion,
  type RGB,
  SRGBColorSpace,
  SphereGeometry,
  Vector2,
  Vector3,
  type Material,
} from 'three';
import type { Vec3 } from '../../../core/space';
import { LineInk } from './lines';
import type { Palette } from './palette';

type Role = 'paper' | 'ink' | 'accent' | 'bad';

/** One set of materials for the whole view; a change of theme only recolours them. */
export class Inks {
  private readonly all: { material: Material & { color: Color }; role: Role; toPaper: number }[] = [];
  private readonly loose: Material[] = [];

  /** Size of the view, CSS px; the lines need it for their width. */
  readonly sizePx = new Vector2(1, 1);
  readonly triadSizePx = new Vector2(1, 1);

  /** Wide line 1.6 px to narrow line 0.8 px: two widths as 2:1, the habit of ISO 128-2. */
  readonly wide = this.line('ink', 1.6, 0, false, true);
  readonly triad = this.line('ink', 1.6, 0, false, false, this.triadSizePx);
  readonly narrow = this.line('ink', 0.9, 0.25);
  readonly faint = this.line('ink', 1, 0.55);
  readonly accentLine = this.line('accent', 1.4);
  readonly accentThin = this.line('accent', 1.1, 0.25);
  readonly badLine = this.line('bad', 2.2);
  readonly marker = this.line('accent', 2.2, 0, true);
  readonly badMarker = this.line('bad', 2, 0, true);

  readonly metal = this.solid('ink', 0.78);
  readonly rod = this.solid('ink', 0.93);
  readonly dark = this.solid('ink', 0.15);
  readonly panel = this.sheet('ink', 0.8, 0.6);
  readonly shadow = this.sheet('ink', 0.7, 0.35);
  readonly band = this.sheet('ink', 0.35, 0.2);
  readonly bandBad = this.sheet('bad', 0, 0.28);
  readonly accent = this.solid('accent', 0);
  readonly bad = this.solid('bad', 0);
  readonly bracket = this.solid('accent', 0.55, true);
  readonly hull = this.flat('ink', 0, BackSide);
  readonly quartered = this.register(new MeshBasicMaterial({ vertexColors: true }), null, 0);

  private register<M extends Material & { color: Color }>(material: M, role: Role | null, toPaper: number): M {
    if (role) this.all.push({ material, role, toPaper });
    else this.loose.push(material);
    return material;
  }
  private line(role: Role, widthPx: number, toPaper = 0, onTop = false, hides = false, sizePx = this.sizePx): LineInk {
    return this.register(new LineInk(widthPx, sizePx, { onTop, hides }), role, toPaper);
  }
  private solid(role: Role, toPaper: number, flatShading = false): MeshLambertMaterial {
    return this.register(new MeshLambertMaterial({ flatShading }), role, toPaper);
  }
  private flat(role: Role, toPaper: number, side: typeof BackSide): MeshBasicMaterial {
    return this.register(new MeshBasicMaterial({ side }), role, toPaper);
  }
  private sheet(role: Role, toPaper: number, opacity: number): MeshBasicMaterial {
    const material = new MeshBasicMaterial({ transparent: true, opacity, side: DoubleSide, depthWrite: false });
    return this.register(material, role, toPaper);
  }

  recolour(palette: Palette): void {
    // mixed as the eye sees it (sRGB): in linear light a little pale ink would drown a dark paper
    const rgb = (css: string): RGB => new Color(css).getRGB({ r: 0, g: 0, b: 0 }, SRGBColorSpace);
    const paper = rgb(palette.paper);
    for (const { material, role, toPaper } of this.all) {
      const c = rgb(palette[role]);
      const mix = (k: 'r' | 'g' | 'b'): number => c[k] + (paper[k] - c[k]) * toPaper;
      material.color.setRGB(mix('r'), mix('g'), mix('b'), SRGBColorSpace);
    }
  }

  dispose(): void {
    for (const { material } of this.all) material.dispose();
    for (const material of this.loose) material.dispose();
  }
}

const Z = new Vector3(0, 0, 1);
const from = new Vector3();
const along = new Vector3();
const turn = new Quaternion();

/** Length of a stem's pin over the radius of its working band: it reaches out of the belt. */
export const PIN_LENGTH = 1.35;

/** A pin with a round head, along z from 0 to PIN_LENGTH: for a band of radius 1. */
function pinBody(): BufferGeometry {
  const [thin, head] = [0.04, 0.06];
  const profile = [
    [0, 0],
    [thin, 0],
    [thin, PIN_LENGTH - head * 1.6],
    [head, PIN_LENGTH - head * 1.2],
    [head, PIN_LENGTH - head * 0.4],
    [head * 0.6, PIN_LENGTH],
    [0, PIN_LENGTH],
  ].map(([x, y]) => new Vector2(x, y));
  return new LatheGeometry(profile, 10).rotateX(Math.PI / 2);
}

/** Bodies of revolution shared by every part: radius 1; the cylinder from z = 0 to 1. */
export class Bodies {
  readonly cylinder = new CylinderGeometry(1, 1, 1, 16, 1).rotateX(Math.PI / 2).translate(0, 0, 0.5);
  readonly sphere = new SphereGeometry(1, 20, 14);
  readonly pin = pinBody();
  /** For what is a few pixels wide. */
  readonly bead = new SphereGeometry(1, 10, 7);

  dispose(): void {
    this.cylinder.dispose();
    this.sphere.dispose();
    this.bead.dispose();
    this.pin.dispose();
  }
}

/** Lays a unit cylinder from a to b; hides it when that is no length. */
export function layCylinder(mesh: Object3D, a: Vec3, b: Vec3, radiusMm: number): void {
  along.set(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
  const length = along.length();
  mesh.visible = length > 1e-6 && radiusMm > 0;
  if (!mesh.visible) return;
  mesh.position.set(a[0], a[1], a[2]);
  mesh.quaternion.copy(turn.setFromUnitVectors(Z, along.divideScalar(length)));
  mesh.scale.set(radiusMm, radiusMm, length);
}

/** Turns an object's z axis along a unit direction at a place. */
export function standAlong(object: Object3D, at: Vec3, direction: Vec3, size: number): void {
  object.position.set(at[0], at[1], at[2]);
  object.quaternion.copy(turn.setFromUnitVectors(Z, from.set(direction[0], direction[1], direction[2])));
  object.scale.setScalar(size);
}

export function mesh(geometry: BufferGeometry, material: Material): Mesh {
  const made = new Mesh(geometry, material);
  made.frustumCulled = false;
  return made;
}
