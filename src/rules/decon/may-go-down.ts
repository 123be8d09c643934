import type { UnitStateName } from '../../protocol/kinds/unit-state.ts';
import { asSentence, type WellNamed } from './decon-unit.ts';

export interface MayGoDownGiven {
  /** As it is called in the sentence. */
  readonly unit: string;
  /** As its records say. */
  readonly state: UnitStateName;
  /** Where it is, or was used last. */
  readonly wellLeft?: string | null | undefined;
  readonly wellNext?: string | null | undefined;
  /** Nothing needs to be cleaned between these wells. */
  readonly isNothingOwed: boolean;
  /** Tubing, and what is disposable: no cleaning makes it fit for another well. */
  readonly isNeverMoved?: boolean | undefined;
  /** What speaks against it however clean it is, in a sentence: a check that it failed, say. */
  readonly against?: string | null | undefined;
  /** Missing: wells are given by their names. */
  readonly named?: WellNamed | undefined;
}

export interface MayGoDown {
  readonly answer: 'yes' | 'no' | 'cannot-tell';
  readonly sentence: string;
  /** A blank through the unit, should it go in nevertheless. */
  readonly isRinsateProposed: boolean;
}

const KEPT =
  'Where it goes in nevertheless, the record is kept and flagged at once, and a rinsate through it is proposed.';

const no = (sentence: string): MayGoDown => ({
  answer: 'no',
  sentence: `No. ${asSentence(sentence)} ${KEPT}`,
  isRinsateProposed: true,
});

const yes = (sentence: string): MayGoDown => ({
  answer: 'yes',
  sentence: `Yes. ${asSentence(sentence)}`,
  isRinsateProposed: false,
});

function fromAWell({ unit, wellLeft, wellNext, against }: MayGoDownGiven, left: string | null): MayGoDown {
  if (!left)
    return {
      answer: 'cannot-tell',
      sentence: asSentence(`${unit} is in a well by the records: say in which, and which is next.`),
      isRinsateProposed: false,
    };
  if (wellLeft !== wellNext) return no(`${unit} is in ${left} by the records: one of the two is wrong.`);
  return against ? no(against) : yes(`${unit} is in ${left} already.`);
}

/**
 * Whether a unit may go into the next well now: a planning answer. It never keeps a record from being made.
 *
 * @example a pump that was used in one well and is offered to another without decontamination: no, and a rinsate is
 *   proposed
 */
export function mayGoDown(given: MayGoDownGiven): MayGoDown {
  const { unit, state, wellLeft, wellNext, isNothingOwed, isNeverMoved, against, named = (well) => well } = given;
  const left = wellLeft ? named(wellLeft) : null;
  const into = wellNext ? ` goes into ${named(wellNext)}` : ' goes into another well';
  if (state === 'out-of-service') return no(`${unit} is out of service.`);
  if (state === 'in-a-well') return fromAWell(given, left);
  if (against) return no(against);
  if (isNeverMoved && left) return no(`${unit} was in ${left} and is not moved between wells: take new.`);
  if (isNothingOwed) return yes(`${unit} needs no cleaning between these wells.`);
  if (state === 'clean') return yes(`${unit} is clean by its records.`);
  if (state === 'used')
    return no(
      `${unit} was used${left ? ` in ${left}` : ''}, and no complete decontamination is on record since: clean it before it${into}.`,
    );
  if (state === 'being-cleaned')
    return no(`${unit} is being cleaned: its record is not complete. Finish it before it${into}.`);
  return {
    answer: 'cannot-tell',
    sentence: `Nothing on record says whether ${unit} is clean: treat it as used, and clean it before it${into}.`,
    isRinsateProposed: true,
  };
}
