import { PAPER_FIELDS } from '../../../catalog/analytes/custody-rules.ts';
import { listText } from '../../flags/list-text.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';

const companies = PAPER_FIELDS.find(({ id }) => id === 'companies');

export const signerWithoutOrganization: CustodyRule = {
  code: 'signer-without-organization',
  title: 'Somebody signed for a cooler without saying for whom',
  severity: 'note',
  addressee: 'tonight',
  source: companies?.source ?? '',
  verified: companies?.verified ?? false,
  isStored: true,
  find(facts) {
    const signers = facts.custody.changes.flatMap(({ relinquished, received }) => [relinquished, received]);
    const its = signers.flatMap((one) => (one && !one.isReceipt && one.organization === null ? [one] : []));
    if (its.length === 0) return [];
    const names = listText([...new Set(its.map(({ name }) => name))]);
    return aboutCooler(
      facts,
      `Of ${names} the custody record does not say for whom they signed. Add the organization.`,
      its.map(({ record, name }) => shows(record, 'name', name)),
    );
  },
  vectors: [
    {
      name: 'a name alone',
      given: { hands: [['out', '10:00', 'Ann Poe', { organization: null }]] },
      expect: 'Of Ann Poe the custody record',
    },
    { name: 'with organization', given: { hands: [['out', '10:00', 'Ann Poe']] }, expect: null },
    { name: 'a receipt of the laboratory', given: { hands: [['out', '10:00', 'Ann Poe']], receipt: {} }, expect: null },
  ],
};
