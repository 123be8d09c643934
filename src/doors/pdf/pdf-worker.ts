import { parentPort } from 'node:worker_threads';
import { custodyRecordPdf } from '../../documents/custody/custody-record-pdf.ts';
import { labelsPdf } from '../../documents/labels/labels-pdf.ts';
import type { PdfAnswer, PdfJob } from './pdf-job.ts';

function draw(job: PdfJob): Promise<Uint8Array> {
  return job.kind === 'labels' ? labelsPdf(job.labels, job.media, job.about) : custodyRecordPdf(job.record, job.paper);
}

async function answer(job: PdfJob): Promise<PdfAnswer> {
  try {
    return { bytes: await draw(job) };
  } catch (error) {
    // what cannot be laid out was asked for wrongly; all else is a fault of ours
    return { fault: error instanceof Error ? error.message : String(error), isRefused: error instanceof RangeError };
  }
}

// a port of its own: in a thread, and nowhere else, there is one
parentPort?.on('message', (job: PdfJob) => {
  void answer(job).then((told) => parentPort?.postMessage(told));
});
