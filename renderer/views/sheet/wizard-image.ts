import { decodePicture } from '../../photo/decode';
import { dataUrlToBlob } from '../../photo/images';
import type { Wizard } from '../../photo/wizard';
import { setWizard } from '../../state/photo-actions';
import { bench } from '../../state/store';

let held: { readonly url: string; image: ImageBitmap | null } | null = null;

/** The picture being traced; null until it is decoded, then every view is asked to draw again. */
export function wizardImage(wizard: Wizard): ImageBitmap | null {
  const url = wizard.photo.dataUrl;
  if (held?.url !== url) {
    const mine = { url, image: null as ImageBitmap | null };
    held = mine;
    void decodePicture('this photo', dataUrlToBlob(url)).then(({ image }) => {
      mine.image = image;
      const { wizard: now } = bench.getState();
      if (now && now.photo.dataUrl === url) setWizard({ ...now });
    });
  }
  return held.image;
}
