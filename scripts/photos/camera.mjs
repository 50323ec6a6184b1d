// Pinhole cameras as the computer-vision books write them: x = K·(R·X + t), camera axes x right, y down, z forward.
// Pixel (0, 0) is the top left corner of the image, so the middle of the first pixel lies at (0.5, 0.5).

const sub = (a, b) => a.map((v, i) => v - b[i]);
const dot = (a, b) => a.reduce((sum, v, i) => sum + v * b[i], 0);
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a) => a.map((v) => v / Math.hypot(...a));

/**
 * A camera at `eyeMm` that looks at `targetMm`; all in the base frame, mm.
 * @param up direction that points up in the image before the roll
 * @param rollDeg turn of the camera about its own axis; positive turns the camera clockwise as seen from behind
 * @param focalPx focal length in pixels, the same both ways; the principal point is the image's middle
 */
export function lookAt({ eyeMm, targetMm, up, rollDeg, focalPx, widthPx, heightPx }) {
  const forward = unit(sub(targetMm, eyeMm));
  const right0 = unit(cross(forward, up));
  const down0 = cross(forward, right0);
  const c = Math.cos((rollDeg * Math.PI) / 180);
  const s = Math.sin((rollDeg * Math.PI) / 180);
  const right = right0.map((v, i) => c * v + s * down0[i]);
  const down = down0.map((v, i) => c * v - s * right0[i]);
  const R = [right, down, forward];
  return {
    K: [
      [focalPx, 0, widthPx / 2],
      [0, focalPx, heightPx / 2],
      [0, 0, 1],
    ],
    R,
    t: R.map((row) => -dot(row, eyeMm)),
    eyeMm,
    widthPx,
    heightPx,
  };
}

/** The pixel [x, y] of a point given in mm. */
export function project(camera, pointMm) {
  const [x, y, z] = camera.R.map((row, i) => dot(row, pointMm) + camera.t[i]);
  return [camera.K[0][2] + (camera.K[0][0] * x) / z, camera.K[1][2] + (camera.K[1][1] * y) / z];
}

/**
 * The underlay that lays a photo under an orthographic view: mm per pixel from the scale's two clicks, then the
 * rotation and anchor that fit the chosen pixel ↔ view pairs best (least squares).
 * @param pairs [{ px: [x, y], mm: [h, v] }]
 * @returns { rotationDeg, anchorPx, anchorMm, mmPerPx } rotation positive anticlockwise on the sheet
 */
export function fitUnderlay(scale, pairs) {
  const mmPerPx = scale.lengthMm / Math.hypot(...sub(scale.to, scale.from));
  const mean = (list) => [0, 1].map((i) => list.reduce((sum, p) => sum + p[i], 0) / list.length);
  const anchorPx = mean(pairs.map((p) => p.px));
  const anchorMm = mean(pairs.map((p) => p.mm));
  let along = 0;
  let across = 0;
  for (const { px, mm } of pairs) {
    const d = [px[0] - anchorPx[0], anchorPx[1] - px[1]];
    const e = sub(mm, anchorMm);
    along += d[0] * e[0] + d[1] * e[1];
    across += d[0] * e[1] - d[1] * e[0];
  }
  return { rotationDeg: (Math.atan2(across, along) * 180) / Math.PI, anchorPx, anchorMm, mmPerPx };
}

/** Where an underlay shows a pixel, in view coordinates [h, v] mm. */
export function underlayToView(underlay, px) {
  const a = (underlay.rotationDeg * Math.PI) / 180;
  const x = (px[0] - underlay.anchorPx[0]) * underlay.mmPerPx;
  const y = (underlay.anchorPx[1] - px[1]) * underlay.mmPerPx;
  return [
    underlay.anchorMm[0] + Math.cos(a) * x - Math.sin(a) * y,
    underlay.anchorMm[1] + Math.sin(a) * x + Math.cos(a) * y,
  ];
}
