import { PDFiumLibrary } from '@hyzyla/pdfium';

export interface PageImage {
  readonly width: number;
  readonly height: number;
  /** Four bytes a dot. */
  readonly rgba: Uint8Array;
}

export interface ReadPage {
  readonly text: string;
  readonly image: (scale: number) => Promise<PageImage>;
}

/** Opens a PDF with another maker's engine than the one that wrote it, and gives what each page says and looks like. */
export async function withPdf<T>(bytes: Uint8Array, use: (pages: readonly ReadPage[]) => Promise<T>): Promise<T> {
  const library = await PDFiumLibrary.init();
  try {
    const document = await library.loadDocument(bytes);
    const pages = [...document.pages()].map((page) => ({
      text: page.getText(),
      image: async (scale: number): Promise<PageImage> => {
        const { width, height, data } = await page.render({ scale, render: 'bitmap' });
        return { width, height, rgba: data };
      },
    }));
    const result = await use(pages);
    document.destroy();
    return result;
  } finally {
    library.destroy();
  }
}
