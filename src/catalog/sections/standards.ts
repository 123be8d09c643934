import { isRefusal } from '../../science/refusal.ts';
import { type CatalogItem, type CatalogSection, catalogItem } from '../catalog-section.ts';
import { ZOBELL_WITH_4_MOLAR } from '../standards/check-solution-table.ts';
import { CONDUCTIVITY_STANDARD_IDS, conductivityLabel } from '../standards/conductivity-standards.ts';
import { NATURAL_WATER_FACTORS } from '../standards/natural-water-factors.ts';
import { PH_BUFFERS } from '../standards/ph-buffers.ts';
import { REFERENCE_ELECTRODES } from '../standards/reference-electrodes.ts';
import { ZOBELL_STANDARD_METHODS, zobellAt } from '../standards/zobell-tables.ts';

export const BUFFER_SECTION: CatalogSection = {
  name: 'ph-buffers',
  title: 'pH buffers by temperature',
  description: 'A buffer is known by its recipe; the table of the bottle in hand goes before any of these.',
  items: Object.values(PH_BUFFERS).map((buffer) => catalogItem(buffer)),
};

export const CONDUCTIVITY_SECTION: CatalogSection = {
  name: 'conductivity-standards',
  title: 'Conductivity standards and factors',
  description: 'Potassium chloride by temperature, before any compensation, and the factors of natural water to 25 °C.',
  items: [
    ...CONDUCTIVITY_STANDARD_IDS.map((id) => catalogItem(conductivityLabel(id))),
    catalogItem(NATURAL_WATER_FACTORS),
  ],
};

const FORMULA_AT_C = ['10', '15', '20', '25', '30'];

/** A solution whose potential is given by a formula, at the temperatures of the tables beside it. */
function zobellByFormula(id: 'nordstrom-1977' | 'linear'): CatalogItem {
  const at = FORMULA_AT_C.map((celsius) => {
    const value = zobellAt(id, celsius);
    if (isRefusal(value)) throw new Error(value.refused);
    return { celsius, value };
  });
  const [first] = at;
  if (!first) throw new Error('a formula is shown at no temperature');
  const { name, source, verified } = first.value;
  const points = at.map(({ celsius, value }) => [celsius, value.ehMv] as const);
  return catalogItem({ id, name, unit: 'mV', points, source, verified });
}

export const ORP_SECTION: CatalogSection = {
  name: 'orp-standards',
  title: 'ORP solutions and reference electrodes',
  description: 'The forms of the check solution in circulation, and reference electrodes by their filling, in mV.',
  items: [
    zobellByFormula('nordstrom-1977'),
    zobellByFormula('linear'),
    catalogItem(ZOBELL_STANDARD_METHODS),
    catalogItem(ZOBELL_WITH_4_MOLAR),
    ...Object.values(REFERENCE_ELECTRODES).map((electrode) => catalogItem(electrode)),
  ],
};
