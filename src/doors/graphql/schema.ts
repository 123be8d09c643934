import type { GraphQLSchema } from 'graphql';
import { KINDS } from '../../protocol/kinds-by-name.ts';
import { newBuilder } from './builder.ts';
import { addCatalog, addFlagRules } from './catalog-type.ts';
import { addCustodyQuestions } from './custody-questions.ts';
import { addDeadlineQuestions } from './deadline-questions.ts';
import { addEnrolment } from './enrolment-type.ts';
import { addEquipmentQuestions } from './equipment-questions.ts';
import { addEventStatus } from './event-status-type.ts';
import { addFillQuestions } from './fill-questions.ts';
import { addHistory } from './history-type.ts';
import { implementKind } from './kind-types.ts';
import { addMeterQuestions } from './meter-questions.ts';
import { addMutations } from './mutation-type.ts';
import { addQuery } from './query-type.ts';
import { addQuestions } from './questions.ts';
import { implementRecord } from './record-interface.ts';
import { addSamplingQuestions } from './sampling-questions.ts';
import { addSetAsides } from './set-aside-type.ts';
import { addSetUpPlan } from './set-up-plan-type.ts';
import { addStoredQuestions } from './stored-questions.ts';
import { GraphTypes } from './types.ts';

/** The schema, made from the definitions of the kinds. */
export function graphSchema(): GraphQLSchema {
  const builder = newBuilder();
  const types = new GraphTypes(builder);
  implementRecord(types);
  addHistory(types);
  for (const kind of KINDS) implementKind(types, kind);
  addEventStatus(types);
  addSetUpPlan(types);
  addStoredQuestions(types);
  addEquipmentQuestions(types);
  addMeterQuestions(types);
  addFillQuestions(types);
  addSamplingQuestions(types);
  addCustodyQuestions(types);
  addDeadlineQuestions(types);
  addQuery(types);
  addQuestions(types);
  addCatalog(types);
  addFlagRules(types);
  addSetAsides(types);
  addMutations(types);
  addEnrolment(types);
  return builder.toSchema({ sortSchema: false });
}
