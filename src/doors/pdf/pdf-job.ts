import type { CustodyRecord } from '../../documents/custody/custody-facts.ts';
import type { CustodyPaper } from '../../documents/custody/custody-record-pdf.ts';
import type { ContainerLabel, LabelMedia, LabelsAbout } from '../../documents/labels/label-facts.ts';

/** What a document is drawn from: plain data, which goes to another thread as it is. */
export type PdfJob =
  | { readonly kind: 'custody-record'; readonly record: CustodyRecord; readonly paper: CustodyPaper }
  | {
      readonly kind: 'labels';
      readonly labels: readonly ContainerLabel[];
      readonly media: LabelMedia;
      readonly about: LabelsAbout;
    };

/** What a thread answers: the bytes, or why there are none. */
export type PdfAnswer = { readonly bytes: Uint8Array } | { readonly fault: string; readonly isRefused: boolean };
