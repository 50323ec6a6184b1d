// Names that come from outside, checked the same way in both hosts.
import { fail } from '../../core/error';

const MAX_NAME = 200;

/** Why a relative name is no good, or null. Folders are parted by "/". */
export function whyBadRelativeName(name: string): string | null {
  if (name === '') return 'the name is empty';
  if (name.length > MAX_NAME) return `the name is longer than ${MAX_NAME} characters`;

  if (/[\u0000-\u001f\u007f\\:%?#*|<>"]/.test(name))
    return 'it holds a character that has no place in a file name here';
  const parts = name.split('/');
  if (parts.some((part) => part === '')) return 'it begins or ends with "/", or has "//" inside';
  if (parts.some((part) => part === '.' || part === '..')) return 'it climbs out of its folder';
  return null;
}

/** The name of something shipped with the program, as it came; throws a LidwrightError for any that leaves the folder. */
export function checkAssetName(name: string): string {
  const why = whyBadRelativeName(name);
  if (why !== null)
    fail(`"${name}" names nothing shipped with the program: ${why}.`, [], 'Give a name inside the assets folder.');
  return name;
}

/** The name of a picture (or another file of a job's ZIP) that drafts share: SHA-256 of its bytes, and its kind. */
export const DRAFT_PICTURE = /^[0-9a-f]{64}\.(jpg|png|webp|bin)$/;

const PICTURE = /\.(png|jpe?g|webp)$/i;

/** The name of a picture beside a job; throws a LidwrightError for any other kind of file, or one that leaves the folder. */
export function checkPictureName(name: string): string {
  const why = whyBadRelativeName(name) ?? (PICTURE.test(name) ? null : 'it is no picture (png, jpg, webp)');
  if (why !== null)
    fail(`"${name}" is no picture beside the job: ${why}.`, [], 'Put the picture into the same folder as the job.');
  return name;
}

/**
 * A file name to suggest when saving: `title` freed of what file systems refuse, with `ending` (".lidjob") at its end once.
 */
export function fileNameFor(title: string, ending: string): string {
  const has = ending !== '' && title.toLowerCase().endsWith(ending.toLowerCase());
  const bare = has ? title.slice(0, -ending.length) : title;
  const clean = bare

    .replace(/[\u0000-\u001f\u007f\\/:%?#*|<>"]+/g, ' ')
    .replace(/\s+/g, ' ')
    .replace(/^[. ]+|[. ]+$/g, '')
    .slice(0, 100);
  return `${clean === '' ? 'Lid' : clean}${ending}`;
}
