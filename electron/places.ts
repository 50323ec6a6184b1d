// Tokens stand for paths: the page never sees a path and can't make one up.
import { createHash, randomUUID } from 'node:crypto';
import path from 'node:path';
import { fail } from '../core/error';

interface Place {
  readonly path: string;
  /** What the file held when it was last read or written here; null: not known. */
  digest: string | null;
}

export const digestOf = (text: string): string => createHash('sha256').update(text).digest('hex');

/** Issues tokens for paths and finds the path again; lives as long as the program runs. */
export class Places {
  private readonly byToken = new Map<string, Place>();
  private readonly byPath = new Map<string, string>();

  /** The token for this path; the same one each time. */
  tokenFor(file: string): string {
    const full = path.resolve(file);
    const known = this.byPath.get(full);
    if (known !== undefined) return known;
    const token = randomUUID();
    this.byPath.set(full, token);
    this.byToken.set(token, { path: full, digest: null });
    return token;
  }

  /** Throws a LidwrightError for a token that was never issued here. */
  pathOf(token: string): string {
    return this.place(token).path;
  }

  /** Notes what the file holds now, to notice when somebody else changes it. */
  note(token: string, digest: string | null): void {
    this.place(token).digest = digest;
  }

  /** What the file held when it was last read or written here; null: not known. */
  notedDigest(token: string): string | null {
    return this.place(token).digest;
  }

  private place(token: string): Place {
    return (
      this.byToken.get(token) ??
      fail('The place to save to is not known any more.', [], 'Use "Save as" and choose it again.')
    );
  }
}
