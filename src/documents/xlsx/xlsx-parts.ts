import { xmlText } from '../svg/svg-text.ts';
import { MOST_DECIMALS } from './xlsx-cell.ts';

/** The parts of a workbook of one sheet, by their path. ECMA-376, parts 1 and 2. */
const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const OFFICE = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const PACKAGE = 'http://schemas.openxmlformats.org/package/2006';
const SHEET_TYPE = 'application/vnd.openxmlformats-officedocument.spreadsheetml';

function relation(id: string, kind: string, target: string): string {
  return `<Relationship Id="${id}" Type="${OFFICE}/${kind}" Target="${target}"/>`;
}

const relations = (inner: string) => `${HEAD}<Relationships xmlns="${PACKAGE}/relationships">${inner}</Relationships>`;

const TYPES =
  `${HEAD}<Types xmlns="${PACKAGE}/content-types">` +
  '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>' +
  '<Default Extension="xml" ContentType="application/xml"/>' +
  `<Override PartName="/xl/workbook.xml" ContentType="${SHEET_TYPE}.sheet.main+xml"/>` +
  `<Override PartName="/xl/worksheets/sheet1.xml" ContentType="${SHEET_TYPE}.worksheet+xml"/>` +
  `<Override PartName="/xl/styles.xml" ContentType="${SHEET_TYPE}.styles+xml"/></Types>`;

/** Style 0 is plain; style 1 + n shows n decimals. */
function styles(): string {
  const decimals = Array.from({ length: MOST_DECIMALS + 1 }, (_, at) => at);
  const format = (at: number) =>
    `<numFmt numFmtId="${164 + at}" formatCode="${at === 0 ? '0' : `0.${'0'.repeat(at)}`}"/>`;
  const look = (id: number) =>
    `<xf numFmtId="${id}" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/>`;
  return (
    `${HEAD}<styleSheet xmlns="${MAIN}"><numFmts count="${decimals.length}">${decimals.map(format).join('')}</numFmts>` +
    '<fonts count="1"><font><sz val="10"/><name val="Arial"/></font></fonts>' +
    '<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>' +
    '<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>' +
    '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>' +
    `<cellXfs count="${decimals.length + 1}">${look(0)}${decimals.map((at) => look(164 + at)).join('')}</cellXfs>` +
    '</styleSheet>'
  );
}

/** All parts but the sheet itself. */
export function xlsxParts(sheetName: string): readonly (readonly [path: string, text: string])[] {
  const sheet = `<sheet name="${xmlText(sheetName)}" sheetId="1" r:id="rId1"/>`;
  return [
    ['[Content_Types].xml', TYPES],
    ['_rels/.rels', relations(relation('rId1', 'officeDocument', 'xl/workbook.xml'))],
    ['xl/workbook.xml', `${HEAD}<workbook xmlns="${MAIN}" xmlns:r="${OFFICE}"><sheets>${sheet}</sheets></workbook>`],
    [
      'xl/_rels/workbook.xml.rels',
      relations(relation('rId1', 'worksheet', 'worksheets/sheet1.xml') + relation('rId2', 'styles', 'styles.xml')),
    ],
    ['xl/styles.xml', styles()],
  ];
}

/** The heading stays in sight when the rows are scrolled. */
export const SHEET_BEGINS =
  `${HEAD}<worksheet xmlns="${MAIN}"><sheetViews><sheetView workbookViewId="0">` +
  '<pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><sheetData>';
export const SHEET_ENDS = '</sheetData></worksheet>';
