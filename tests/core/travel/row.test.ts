import { describe, expect, it } from 'vitest';
import { rodEndOf, valueOfRow } from '../../../core/travel';

describe('valueOfRow', () => {
  const angles = [0, 10, 20, 25];
  it('runs straight between rows, and is nothing beside a gap or outside', () => {
    expect(valueOfRow(angles, [0, 100, 200, 0], 5)).toBe(50);
    expect(valueOfRow(angles, [0, 100, 200, 0], 22.5)).toBe(100);
    for (const gap of [null, NaN]) {
      expect(valueOfRow(angles, [0, 100, gap, 0], 15)).toBeNull();
      expect(valueOfRow(angles, [0, 100, gap, 0], 20)).toBeNull();
      expect(valueOfRow(angles, [0, 100, gap, 0], 10)).toBe(100);
      expect(valueOfRow(angles, [0, 100, gap, 7], 25)).toBe(7);
    }
    expect(valueOfRow(Float64Array.from(angles), Float64Array.of(1, 2, 3, 4), 25.1)).toBeNull();
    expect(valueOfRow([], [], 0)).toBeNull();
  });
});

describe('rodEndOf', () => {
  it('puts the rod down, or where the job says', () => {
    expect(rodEndOf({}, [0, 0, 0], [0, 0, 5])).toBe('base');
    expect(rodEndOf({}, [0, 0, 9], [0, 0, 5])).toBe('lid');
    expect(rodEndOf({ rodAt: 'base' }, [0, 0, 9], [0, 0, 5])).toBe('base');
  });
});
