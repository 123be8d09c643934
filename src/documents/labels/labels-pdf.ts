import { setImmediate } from 'node:timers/promises';
import { bytesOfPdf, newPdf } from '../pdf/new-pdf.ts';
import { type Ruler, rulerOf } from '../pdf/runs.ts';
import { drawLabel } from './draw-label.ts';
import type { ContainerLabel, LabelMedia, LabelsAbout } from './label-facts.ts';
import { checkMedia, paperOf, placeOf } from './label-media.ts';

/** After so many labels others have their turn: one takes some milliseconds, and a round needs hundreds. */
const AT_A_TIME = 10;

/** Labels for containers, in the order given, on sheets or on a roll: the same facts give the same bytes. */
export async function labelsPdf(
  labels: readonly ContainerLabel[],
  media: LabelMedia,
  about: LabelsAbout,
): Promise<Uint8Array> {
  if (labels.length === 0) throw new RangeError('there is no label to print: give at least one container');
  checkMedia(media);
  const pdf = newPdf(paperOf(media), { title: about.title, author: about.firm, madeAt: about.madeAt });
  const known = new Map<number, Ruler>();
  const rulers = (sizePt: number): Ruler => {
    const ruler = known.get(sizePt) ?? rulerOf(pdf, sizePt);
    known.set(sizePt, ruler);
    return ruler;
  };
  let pages = 0;
  for (const [number, label] of labels.entries()) {
    if (number > 0 && number % AT_A_TIME === 0) await setImmediate();
    const place = placeOf(media, number);
    for (; pages <= place.page; pages += 1) pdf.addPage();
    drawLabel(pdf, label, place, about.timeZone, rulers);
  }
  return bytesOfPdf(pdf);
}
