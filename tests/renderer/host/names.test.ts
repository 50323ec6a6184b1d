import { describe, expect, it } from 'vitest';
import { checkAssetName, checkPictureName, fileNameFor, whyBadRelativeName } from '../../../renderer/host/names';

describe('names from outside', () => {
  it('relative names stay in their folder', () => {
    for (const good of ['a', 'a/b.png', 'Photo of the lid (1).jpg', 'ä/ö.webp', '..a/b..'])
      expect(whyBadRelativeName(good), good).toBeNull();
    for (const bad of [
      '',
      '/a',
      'a/',
      'a//b',
      '..',
      '../a',
      'a/./b',
      'a/..',
      'a\\b',
      'C:a',
      'a\0',
      'a?b',
      'a#b',
      'a%2e',
      'x'.repeat(201),
    ])
      expect(whyBadRelativeName(bad), bad).not.toBeNull();
    expect(checkAssetName('examples/a.lidjob')).toBe('examples/a.lidjob');
  });

  it('only pictures lie beside a job', () => {
    expect(checkPictureName('photos/Side.JPG')).toBe('photos/Side.JPG');
    for (const bad of ['a.txt', 'id_rsa', 'a.png.exe', '.png/../../x.png'])
      expect(() => checkPictureName(bad), bad).toThrow(/no picture/);
  });

  it('makes a file name out of any title, with its ending once', () => {
    expect(fileNameFor('Workboat: hatch / port', '.lidjob')).toBe('Workboat hatch port.lidjob');
    expect(fileNameFor('a.LIDJOB', '.lidjob')).toBe('a.lidjob');
    expect(fileNameFor('sheet', '')).toBe('sheet');
    expect(fileNameFor('../..', '.svg')).toBe('Lid.svg');
    expect(fileNameFor('', '.lidjob')).toBe('Lid.lidjob');
    expect(fileNameFor('x'.repeat(500), '.pdf')).toHaveLength(104);
  });
});
