import { OrthographicCamera, Scene, Vector4, type WebGLRenderer } from 'three';
import { Billboards, letter } from './billboards';
import { type Inks } from './ink';
import { InkLines } from './lines';
import { Segments } from './segments';

const ARM = 1;
const BOX_PX = 76;
const viewport = new Vector4();

/** The base axes in the lower left corner, X forward, Y left, Z up (ISO 8855), with their letters. */
export class Triad {
  private readonly scene = new Scene();
  private readonly camera = new OrthographicCamera(-1.5, 1.5, 1.5, -1.5, 0.1, 20);
  private readonly billboards = new Billboards();
  private readonly lines: InkLines[] = [];

  constructor(inks: Inks) {
    inks.triadSizePx.set(BOX_PX, BOX_PX);
    this.camera.zoom = 1;
    const arms = new Segments(16);
    const ends = { X: [ARM, 0, 0], Y: [0, ARM, 0], Z: [0, 0, ARM] } as const;
    for (const name of ['X', 'Y', 'Z'] as const) {
      const [x, y, z] = ends[name];
      arms.push(0, 0, 0, x, y, z);
      const sign = letter(name, inks.triad);
      sign.object.position.set(x * 1.28, y * 1.28, z * 1.28);
      this.billboards.add(sign.object, 0.15);
      this.scene.add(sign.object);
      this.lines.push(sign);
    }
    // barbs, drawn in the planes between the arms
    const b = 0.13;
    for (const s of [1, -1]) {
      arms.push(1, 0, 0, 1 - 2 * b, s * b, 0);
      arms.push(0, 1, 0, s * b, 1 - 2 * b, 0);
      arms.push(0, 0, 1, s * b * 0.7, s * b * 0.7, 1 - 2 * b);
    }
    const cross = new InkLines(inks.triad, 16);
    cross.set(arms);
    this.lines.push(cross);
    this.scene.add(cross.object);
  }

  draw(renderer: WebGLRenderer, main: OrthographicCamera): void {
    this.camera.quaternion.copy(main.quaternion);
    this.camera.position.set(0, 0, 5).applyQuaternion(main.quaternion);
    this.billboards.face(this.camera);
    renderer.getViewport(viewport);
    renderer.setViewport(4, 4, BOX_PX, BOX_PX);
    renderer.clearDepth();
    renderer.render(this.scene, this.camera);
    renderer.setViewport(viewport);
  }

  dispose(): void {
    for (const lines of this.lines) lines.dispose();
  }
}
