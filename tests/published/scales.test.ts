import { describe, expect, it } from 'vitest';
import { drawingScales, scaleText } from '../../core/papers';

describe('ISO 5455 scales', () => {
  // ISO 5455:1979 (identical: IS 10713:1983).
  it('are the recommended ones, largest first', () => {
    const published =
      '50:1 20:1 10:1 5:1 2:1 1:1 1:2 1:5 1:10 1:20 1:50 1:100 1:200 1:500 1:1000 1:2000 1:5000 1:10000'.split(' ');
    expect(drawingScales.map(scaleText)).toEqual(published);
  });
});
