import PDFDocument from 'pdfkit';
import { pageText } from './page-text.ts';
import { fontFile } from './pdf-fonts.ts';

export type Pdf = PDFKit.PDFDocument;

export interface PdfPaper {
  readonly widthPt: number;
  readonly heightPt: number;
  readonly marginPt: number;
}

export interface PdfAbout {
  readonly title: string;
  readonly author: string;
  /** When it was made, as an instant. It is told and not looked up, so that the same facts give the same bytes. */
  readonly madeAt: string;
}

/** An empty document without a page. Its identifier follows from what it is about, so its bytes can be made again. */
export function newPdf(paper: PdfPaper, about: PdfAbout): Pdf {
  const made = new Date(about.madeAt);
  if (Number.isNaN(made.getTime())) {
    throw new RangeError(
      `a PDF needs the instant at which it was made, not "${about.madeAt}": give one like 2026-05-04T14:40:00Z`,
    );
  }
  const pdf = new PDFDocument({
    size: [paper.widthPt, paper.heightPt],
    margin: paper.marginPt,
    autoFirstPage: false,
    bufferPages: true,
    lang: 'en-US',
    displayTitle: true,
    info: { Title: pageText(about.title), Author: pageText(about.author), CreationDate: made, ModDate: made },
  });
  pdf.registerFont('plain', fontFile('plain'));
  pdf.registerFont('bold', fontFile('bold'));
  return pdf;
}

/** Ends a document and gives its bytes. */
export function bytesOfPdf(pdf: Pdf): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const parts: Uint8Array[] = [];
    pdf.on('data', (part: Uint8Array) => parts.push(part));
    pdf.on('end', () => resolve(new Uint8Array(Buffer.concat(parts))));
    pdf.on('error', reject);
    pdf.end();
  });
}
