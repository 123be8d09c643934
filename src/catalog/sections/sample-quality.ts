import { CUSTODY_RULES, PAPER_FIELDS } from '../analytes/custody-rules.ts';
import { BLIND_DUPLICATE_RULE, LOW_LEVEL_RULE, QC_RULES } from '../analytes/qc-rules.ts';
import { RECEIPT_RULES } from '../analytes/receipt-rules.ts';
import { SHIPPING_RULES } from '../analytes/shipping-rules.ts';
import { TRANSPORT_LIMITS } from '../analytes/transport-limits.ts';
import { type CatalogSection, catalogItem } from '../catalog-section.ts';

export const QC_RULE_SECTION: CatalogSection = {
  name: 'qc-rules',
  title: 'How often QC samples are taken',
  description: 'Replicates, spikes and blanks by frequency, with what their results must be; the plan says which hold.',
  items: [...QC_RULES, LOW_LEVEL_RULE, BLIND_DUPLICATE_RULE].map((rule) => catalogItem(rule, { name: rule.wording })),
};

export const CUSTODY_RULE_SECTION: CatalogSection = {
  name: 'custody-rules',
  title: 'Custody and what closes a cooler',
  description: 'Who has a sample, how it goes from hand to hand, and how a record is corrected.',
  items: Object.values(CUSTODY_RULES).map((rule) => catalogItem(rule, { name: rule.wording })),
};

export const PAPER_FIELD_SECTION: CatalogSection = {
  name: 'custody-fields',
  title: 'What a custody record and a label say',
  description: 'Field by field, with the document that asks for it.',
  items: PAPER_FIELDS.map((field) => catalogItem(field, { name: field.wording })),
};

export const RECEIPT_RULE_SECTION: CatalogSection = {
  name: 'receipt-rules',
  title: 'Receipt at the laboratory',
  description: 'What is looked at when a cooler comes, and what it means for the samples.',
  items: Object.values(RECEIPT_RULES).map((rule) => catalogItem(rule, { name: rule.wording })),
};

export const TRANSPORT_LIMIT_SECTION: CatalogSection = {
  name: 'transport-limits',
  title: 'Acid and base in transport',
  description: 'Up to which share preserved water is no corrosive; above it, the shipper classifies.',
  items: TRANSPORT_LIMITS.map((limit) => catalogItem(limit, { name: limit.title })),
};

export const SHIPPING_RULE_SECTION: CatalogSection = {
  name: 'shipping-rules',
  title: 'Packing and shipping',
  description: 'Ice, absorbent, Saturdays, winter, and small quantities.',
  items: Object.values(SHIPPING_RULES).map((rule) => catalogItem(rule, { name: rule.wording })),
};
