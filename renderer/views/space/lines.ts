import {
  BufferAttribute,
  BufferGeometry,
  Color,
  DynamicDrawUsage,
  InterleavedBuffer,
  InterleavedBufferAttribute,
  Mesh,
  ShaderMaterial,
  type Vector2,
} from 'three';
import type { Segments } from './segments';

/**
 * Lines of real width under an orthographic camera: four corners a segment, which a software renderer draws several
 * times faster than the general line of three's addons (eight corners, caps, perspective).
 */
export class LineInk extends ShaderMaterial {
  readonly color: Color;

  /** `sizePx` is shared: the size of the viewport that the lines are drawn into, CSS px. */
  constructor(widthPx: number, sizePx: Vector2, options: { readonly onTop: boolean; readonly hides: boolean }) {
    const color = new Color();
    super({
      uniforms: { ink: { value: color }, widthPx: { value: widthPx }, sizePx: { value: sizePx } },
      vertexShader: /* glsl */ `
        attribute vec3 from;
        attribute vec3 to;
        uniform float widthPx;
        uniform vec2 sizePx;
        void main() {
          vec4 a = projectionMatrix * modelViewMatrix * vec4(from, 1.0);
          vec4 b = projectionMatrix * modelViewMatrix * vec4(to, 1.0);
          vec2 way = (b.xy - a.xy) * sizePx;
          float span = length(way);
          way = span > 1e-6 ? way / span : vec2(1.0, 0.0);
          // position: x from 0 at one end to 1 at the other, y from -1 to 1 across
          vec4 at = mix(a, b, position.x);
          // ends run on by a third of the width, so that corners close
          vec2 offPx = vec2(-way.y, way.x) * position.y * 0.5 + way * (position.x - 0.5) * 0.66;
          at.xy += offPx * widthPx * 2.0 / sizePx;
          // a hair nearer than the face that it bounds
          at.z -= 0.0006;
          gl_Position = at;
        }`,
      fragmentShader: /* glsl */ `
        uniform vec3 ink;
        void main() {
          gl_FragColor = vec4(ink, 1.0);
          #include <colorspace_fragment>
        }`,
      // what is on top must also come after the see-through faces
      transparent: options.onTop,
      depthTest: !options.onTop,
      depthWrite: options.hides,
    });
    this.color = color;
  }
}

/**
 * Line segments whose buffer is kept and rewritten in place. Every segment is four plain vertices, not an instance:
 * software renderers draw instances one by one.
 */
export class InkLines {
  readonly object: Mesh<BufferGeometry, LineInk>;
  private capacity: number;
  private ends: InterleavedBuffer;

  constructor(material: LineInk, capacity = 64) {
    this.capacity = capacity;
    this.ends = InkLines.endsFor(capacity);
    this.object = new Mesh(this.geometryFor(), material);
    this.object.frustumCulled = false;
    this.object.visible = false;
  }

  private static endsFor(capacity: number): InterleavedBuffer {
    const buffer = new InterleavedBuffer(new Float32Array(capacity * 24), 6);
    buffer.setUsage(DynamicDrawUsage);
    return buffer;
  }

  private geometryFor(): BufferGeometry {
    const corners = new Float32Array(this.capacity * 12);
    const index = new Uint32Array(this.capacity * 6);
    for (let i = 0; i < this.capacity; i++) {
      corners.set([0, -1, 0, 0, 1, 0, 1, -1, 0, 1, 1, 0], i * 12);
      const v = i * 4;
      index.set([v, v + 2, v + 1, v + 2, v + 3, v + 1], i * 6);
    }
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(corners, 3));
    geometry.setIndex(new BufferAttribute(index, 1));
    geometry.setAttribute('from', new InterleavedBufferAttribute(this.ends, 3, 0));
    geometry.setAttribute('to', new InterleavedBufferAttribute(this.ends, 3, 3));
    geometry.setDrawRange(0, 0);
    return geometry;
  }

  set(segments: Segments): void {
    if (segments.count > this.capacity) {
      this.capacity = Math.max(segments.count, this.capacity * 2);
      this.ends = InkLines.endsFor(this.capacity);
      this.object.geometry.dispose();
      this.object.geometry = this.geometryFor();
    }
    const to = this.ends.array as Float32Array;
    for (let i = 0; i < segments.count; i++)
      for (let k = 0; k < 6; k++) {
        const value = segments.data[i * 6 + k]!;
        for (let v = 0; v < 4; v++) to[i * 24 + v * 6 + k] = value;
      }
    this.ends.clearUpdateRanges();
    this.ends.addUpdateRange(0, segments.count * 24);
    this.ends.needsUpdate = true;
    this.object.geometry.setDrawRange(0, segments.count * 6);
    this.object.visible = segments.count > 0;
  }

  dispose(): void {
    this.object.geometry.dispose();
  }
}
