import { z } from 'zod';
import { ohmmeter, supplyAt, source } from './instrument';
import { finite, name, notNegative, positive, resistanceOhm, stopEnd, text } from './values';

const loads = z.enum(['off', 'lights', 'fan', 'charging']);

const measurementKind = z.enum([
  'supply-volt',
  'open-circuit-volt',
  'effective-volt',
  'ripple-volt',
  'ground-offset-volt',
  'sender-wire-ohm',
  'sender-body-ohm',
  'sender-stud-volt',
  'gauge-ohm',
  'temperature-celsius',
  'sender-ohm',
  'loaded-volt',
]);

const finding = z.enum([
  'sound',
  'ground-fault',
  'supply-fault',
  'stabiliser-fault',
  'wire-fault',
  'sender-suspect',
  'gauge-suspect',
  'undetermined',
  /** Nothing wrong in what was asked, and not everything was asked: no word of being sound. */
  'nothing-found',
]);

export const checkShapes = {
  checkAnswered: { question: name, answer: name },
  checkMeasured: {
    what: measurementKind,
    value: finite,
    standardUncertainty: notNegative.optional(),
    loads: loads.optional(),
    source,
    /** The resistance that was on the sender wire, where one was put there. */
    loadOhm: resistanceOhm.optional(),
    /** The volts did not change; somebody was asked, and said that the loads are on all the same. */
    saidOn: z.literal(true).optional(),
    /** Of a supply voltage: where it was measured. */
    supplyAt: supplyAt.optional(),
    /** Of ohms that a person measured. */
    ohmmeter: ohmmeter.optional(),
    remark: name.optional(),
  },
  /** What the gauge said before anything was touched; `state` names the natural state ("cold", "hot, idling"). */
  asFound: {
    state: name,
    indicated: finite,
    /** The needle lay on its stop: `indicated` is where the scale's own end is drawn, not a reading. */
    atStop: stopEnd.optional(),
    reference: finite.optional(),
    referenceUncertainty: notNegative.optional(),
    loads: loads.optional(),
    supplyVolt: positive.optional(),
    supplyAt: supplyAt.optional(),
    remark: name.optional(),
  },
  checkConcluded: { finding, sentence: text, evidence: z.array(text) },
};
