import { z } from 'zod';
import { causeNames, testNames, waysOfWorking } from '../../core/diagnosis/names';
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

const test = z.enum(testNames);

export const checkShapes = {
  /** One reading of a test of the diagnosis: a part of the scale, volt, ohm or millivolt by its row; 1 and 0 for yes and no. */
  checkTested: {
    test,
    value: finite,
    source,
    /** What was on the sender wire. */
    atOhm: resistanceOhm.optional(),
    /** Of the needle with the engine hot: where a reference says it should stand, part of the scale. */
    standsAt: finite.optional(),
  },
  /** A test that cannot be done here, and why where somebody said it. */
  checkSkipped: { test, reason: text.optional() },
  /** Something was mended: what was read before it says nothing of how things are now. */
  repairMade: { what: text },
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
  checkConcluded: {
    finding,
    sentence: text,
    evidence: z.array(text),
    /** What the diagnosis named, and how it came to it; left out by the older check. */
    diagnosed: z
      .strictObject({
        verdict: z.enum(['is', 'most-likely', 'between', 'no-circuit']),
        causes: z.array(z.enum(causeNames)).max(4),
        way: z.enum(waysOfWorking),
        seed: z.number().int(),
        notMeasured: z.array(test),
      })
      .optional(),
  },
};
