// Seeded randomness and painted textures: everything a surface shows is made here.
import * as THREE from 'three';

/** A repeatable generator of numbers in [0, 1) (mulberry32, public domain). */
export function seeded(seed) {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), a | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

function canvas(widthPx, heightPx, draw) {
  const c = document.createElement('canvas');
  c.width = widthPx;
  c.height = heightPx;
  draw(c.getContext('2d'), widthPx, heightPx);
  return c;
}

function texture(source, repeatX = 1, repeatY = 1) {
  const t = new THREE.CanvasTexture(source);
  t.wrapS = t.wrapT = THREE.RepeatWrapping;
  t.repeat.set(repeatX, repeatY);
  t.colorSpace = THREE.SRGBColorSpace;
  t.anisotropy = 8;
  return t;
}

function speckle(g, w, h, random, count, shade, alpha) {
  for (let i = 0; i < count; i++) {
    g.fillStyle = `rgba(${shade},${alpha * random()})`;
    const r = 0.5 + 2.2 * random();
    g.fillRect(w * random(), h * random(), r, r);
  }
}

/** Deck planks along the texture's x with dark seams; `planks` of them over the height. */
export function planks(random, planks, repeatX, repeatY) {
  return texture(
    canvas(1024, 1024, (g, w, h) => {
      const step = h / planks;
      for (let i = 0; i < planks; i++) {
        const tone = 148 + 26 * random();
        g.fillStyle = `rgb(${tone + 14},${tone - 8},${tone - 40})`;
        g.fillRect(0, i * step, w, step);
        for (let k = 0; k < 90; k++) {
          g.strokeStyle = `rgba(70,48,26,${0.03 + 0.11 * random()})`;
          g.lineWidth = 0.6 + 1.4 * random();
          const y = i * step + step * random();
          const x = w * random();
          g.beginPath();
          g.moveTo(x, y);
          g.bezierCurveTo(x + 90, y + 3 * (random() - 0.5), x + 200, y + 5 * (random() - 0.5), x + 330, y + 2);
          g.stroke();
        }
        g.fillStyle = '#23201d';
        g.fillRect(0, i * step, w, 5);
        const butt = w * random();
        g.fillRect(butt, i * step, 4, step);
      }
      speckle(g, w, h, random, 2500, '30,24,18', 0.25);
    }),
    repeatX,
    repeatY,
  );
}

/** Non-slip paint: raised dots in staggered rows on one colour. */
export function nonSlip(random, colour, repeatX, repeatY) {
  return texture(
    canvas(512, 512, (g, w, h) => {
      g.fillStyle = colour;
      g.fillRect(0, 0, w, h);
      for (let row = 0; row < 16; row++)
        for (let col = 0; col < 16; col++) {
          const x = (col + (row % 2 ? 0.5 : 0)) * 32 + 8;
          const y = row * 32 + 16;
          g.fillStyle = 'rgba(0,0,0,0.30)';
          g.beginPath();
          g.arc(x + 2, y + 2, 9, 0, 7);
          g.fill();
          g.fillStyle = 'rgba(255,255,255,0.20)';
          g.beginPath();
          g.arc(x, y, 8, 0, 7);
          g.fill();
        }
      speckle(g, w, h, random, 1800, '20,20,20', 0.22);
    }),
    repeatX,
    repeatY,
  );
}

/** Worn paint: one colour with cloudy tone, scuffs and a few runs of rust. */
export function wornPaint(random, [r, g0, b], wear = 1, repeatX = 1, repeatY = 1) {
  return texture(
    canvas(512, 512, (g, w, h) => {
      g.fillStyle = `rgb(${r},${g0},${b})`;
      g.fillRect(0, 0, w, h);
      for (let i = 0; i < 50; i++) {
        const x = w * random();
        const y = h * random();
        const radius = 30 + 110 * random();
        const cloud = g.createRadialGradient(x, y, 0, x, y, radius);
        const light = random() > 0.5 ? 255 : 0;
        cloud.addColorStop(0, `rgba(${light},${light},${light},${0.05 * wear})`);
        cloud.addColorStop(1, `rgba(${light},${light},${light},0)`);
        g.fillStyle = cloud;
        g.fillRect(0, 0, w, h);
      }
      for (let i = 0; i < 36 * wear; i++) {
        g.strokeStyle = `rgba(40,36,32,${0.16 * random()})`;
        g.lineWidth = 0.5 + random();
        const x = w * random();
        const y = h * random();
        g.beginPath();
        g.moveTo(x, y);
        g.lineTo(x + 60 * (random() - 0.5), y + 22 * (random() - 0.5));
        g.stroke();
      }
      for (let i = 0; i < 3 * wear; i++) {
        const x = w * random();
        const y = h * 0.5 * random();
        const run = g.createLinearGradient(0, y, 0, y + 120);
        run.addColorStop(0, 'rgba(120,66,26,0)');
        run.addColorStop(0.12, 'rgba(120,66,26,0.2)');
        run.addColorStop(1, 'rgba(120,66,26,0)');
        g.fillStyle = run;
        g.fillRect(x, y, 2 + 2 * random(), 120);
      }
      speckle(g, w, h, random, 1400 * wear, '30,28,24', 0.16);
    }),
    repeatX,
    repeatY,
  );
}

/** Coarse ground: asphalt, gravel or stone by its base colour. */
export function grit(random, [r, g0, b], repeatX, repeatY) {
  return texture(
    canvas(512, 512, (g, w, h) => {
      g.fillStyle = `rgb(${r},${g0},${b})`;
      g.fillRect(0, 0, w, h);
      speckle(g, w, h, random, 9000, '0,0,0', 0.4);
      speckle(g, w, h, random, 7000, '255,255,255', 0.3);
    }),
    repeatX,
    repeatY,
  );
}

/** Leaves, for a hedge behind the scene; repeats count per mm where the face's coordinates are mm. */
export function leaves(random, repeatX, repeatY) {
  return texture(
    canvas(512, 512, (g, w, h) => {
      g.fillStyle = '#24361b';
      g.fillRect(0, 0, w, h);
      for (let i = 0; i < 4200; i++) {
        const tone = random();
        g.fillStyle = `rgb(${52 + 58 * tone},${68 + 62 * tone},${42 + 34 * tone})`;
        g.beginPath();
        g.ellipse(w * random(), h * random(), 3 + 3 * random(), 2 + 2 * random(), 3 * random(), 0, 7);
        g.fill();
      }
    }),
    repeatX,
    repeatY,
  );
}

/** Water seen at a low angle: long soft streaks. */
export function water(random, repeatX, repeatY) {
  return texture(
    canvas(512, 512, (g, w, h) => {
      g.fillStyle = '#4f6c78';
      g.fillRect(0, 0, w, h);
      for (let i = 0; i < 900; i++) {
        const light = random() > 0.45;
        g.fillStyle = light ? `rgba(190,208,214,${0.2 * random()})` : `rgba(20,40,52,${0.24 * random()})`;
        g.beginPath();
        g.ellipse(w * random(), h * random(), 10 + 40 * random(), 1 + 3 * random(), 0, 0, 7);
        g.fill();
      }
    }),
    repeatX,
    repeatY,
  );
}

/** The face of a 500 mm rule: ticks each 10 mm, longer at 50 and 100, the end ticks' outer edges 500 mm apart. */
export function ruleFace() {
  const t = texture(
    canvas(2080, 128, (g, w, h) => {
      // 4 px a mm: the printed 500 mm run from x = 40 to x = 2040, 10 mm of blank rule at either end
      g.fillStyle = '#f2d33c';
      g.fillRect(0, 0, w, h);
      for (let block = 0; block < 5; block++) {
        g.fillStyle = block % 2 ? '#f2d33c' : '#1d1c1a';
        g.fillRect(40 + block * 400, h - 26, 400, 26);
      }
      g.fillStyle = '#1d1c1a';
      for (let mm = 0; mm <= 500; mm += 10) {
        const long = mm % 100 === 0 ? 92 : mm % 50 === 0 ? 66 : 42;
        const wide = mm % 50 === 0 ? 7 : 4;
        const x = mm === 0 ? 40 : mm === 500 ? 2040 - wide : 40 + mm * 4 - wide / 2;
        g.fillRect(x, 0, wide, long);
      }
    }),
  );
  t.wrapS = t.wrapT = THREE.ClampToEdgeWrapping;
  return t;
}

/** A coloured paper dot with a dark cross through its middle. */
export function dotFace(colour) {
  return texture(
    canvas(128, 128, (g, w) => {
      g.fillStyle = colour;
      g.fillRect(0, 0, w, w);
      g.strokeStyle = 'rgba(20,20,20,0.9)';
      g.lineWidth = 7;
      g.beginPath();
      g.moveTo(w / 2, 0);
      g.lineTo(w / 2, w);
      g.moveTo(0, w / 2);
      g.lineTo(w, w / 2);
      g.stroke();
    }),
  );
}
