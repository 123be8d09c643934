import { drawColumns, type Told } from '../pdf/draw-columns.ts';
import type { PageFlow } from '../pdf/page-flow.ts';
import { localTime } from '../time/local-time.ts';
import type { CustodyRecord, Written } from './custody-facts.ts';
import { toldRuns } from './written-runs.ts';

function joined(...parts: readonly (string | undefined)[]): string | undefined {
  const told = parts.filter((part) => part !== undefined && part !== '');
  return told.length > 0 ? told.join(', ') : undefined;
}

function told(record: CustodyRecord): readonly (readonly Told[])[] {
  const { firm, site, project, laboratory, cooler, timeZone } = record;
  const say = (title: string, written: Written | undefined): Told => [title, toldRuns(written, timeZone)];
  const time = (at: string | undefined) => (at === undefined ? undefined : localTime(at, timeZone));
  return [
    [
      say('Sampled by', joined(firm.name, firm.contact)),
      say('Site', joined(site.name, site.number)),
      ...(project ? [say('Project', joined(project.name, project.number))] : []),
    ],
    [say('Laboratory', joined(laboratory?.name, laboratory?.address)), say('Laboratory contact', laboratory?.contact)],
    [
      say('Cooler', cooler.number),
      say('Packed', time(cooler.packedAt)),
      say('Ice', cooler.ice),
      say('Shipped', time(cooler.shippedAt)),
      say('Shipper', cooler.shipper),
      say('Tracking number', cooler.trackingNumber),
    ],
  ];
}

/** Who sampled, for whom, and which cooler. */
export function drawAbout(flow: PageFlow, record: CustodyRecord): void {
  drawColumns(flow, told(record), 8);
  flow.yPt += 6;
}
