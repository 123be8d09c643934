import type { Machine } from './machine.ts';
import type { Summary } from './row.ts';

function figure(value: number): string {
  if (value >= 100) return String(Math.round(value));
  return value.toFixed(value >= 10 ? 1 : 2);
}

function cells(row: Summary): string[] {
  if (row.reached === null)
    return [row.name, row.against, '-', row.target, row.absent ?? 'not measured', '-', '-', '-', '-'];
  const [least, most] = row.spread ?? [row.reached, row.reached];
  const spread = `${figure(least)} to ${figure(most)}`;
  const own = `${figure(row.own ?? 0)} ${row.unit}`;
  const other = row.other === null ? '-' : `${figure(row.other)} ${row.unit}`;
  const cpu = row.processorUs;
  const processor = cpu ? `${figure(cpu.own)} / ${figure(cpu.other)}` : '-';
  return [
    row.name,
    row.against,
    figure(row.reached),
    row.target,
    row.met === null ? '' : row.met ? 'met' : 'MISSED',
    spread,
    own,
    other,
    processor,
  ];
}

const TITLES = ['what', 'against', 'reached', 'target', '', 'spread', 'ours', 'theirs', 'processor us each'];

export function tableText(rows: readonly Summary[]): string {
  const lines = [TITLES, ...rows.map(cells)];
  const widths = TITLES.map((_, column) => Math.max(...lines.map((line) => line[column]?.length ?? 0)));
  const text = lines.map((line) =>
    line
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd(),
  );
  const [titles = '', ...rest] = text;
  const notes = rows.flatMap((row) => row.notes.map((note) => `${row.name}: ${note}`));
  return [titles, '-'.repeat(titles.length), ...rest, ...(notes.length > 0 ? ['', ...notes] : [])].join('\n');
}

export function machineText(machine: Machine): string {
  const { processors, processor, memoryGiB, system, node, postgres, load } = machine;
  return `${processors} x ${processor}, ${memoryGiB} GiB, ${system}; Node ${node}, PostgreSQL ${postgres}, fsync on; load before: ${load}`;
}
