// Tokens stand for paths: the page never sees a path and can't make one up.
import { randomUUID } from 'node:crypto';
import path from 'node:path';
import { fail } from '../core/error';

/** Issues tokens for paths and finds the path again; lives as long as the program runs. */
export class Places {
  private readonly byToken = new Map<string, string>();
  private readonly byPath = new Map<string, string>();

  /** The token for this path; the same one each time. */
  tokenFor(file: string): string {
    const full = path.resolve(file);
    const known = this.byPath.get(full);
    if (known !== undefined) return known;
    const token = randomUUID();
    this.byPath.set(full, token);
    this.byToken.set(token, full);
    return token;
  }

  /** Throws a LidwrightError for a token that was never issued here. */
  pathOf(token: string): string {
    return (
      this.byToken.get(token) ??
      fail('The place to save to is not known any more.', [], 'Use "Save as" and choose it again.')
    );
  }
}
