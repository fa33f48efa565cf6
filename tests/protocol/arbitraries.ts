import fc from 'fast-check';
import type { Arbitrary } from 'fast-check';
import { events, messages, refused } from '../../protocol';
import type { AnyMessage, FieldTable } from '../../protocol';

const valuesOf = (table: FieldTable): Arbitrary<Record<string, number>> =>
  fc.record(
    Object.fromEntries(Object.entries(table).map(([name, { min, max }]) => [name, fc.integer({ min, max })])),
  );

type Kind = { kind: AnyMessage['kind']; name: string; table: FieldTable };

const kinds: Kind[] = [
  ...Object.entries(messages).map(([name, { request }]): Kind => ({ kind: 'request', name, table: request })),
  ...Object.entries(messages).map(([name, { answer }]): Kind => ({ kind: 'answer', name, table: answer })),
  ...Object.entries(events).map(([name, { fields }]): Kind => ({ kind: 'event', name, table: fields })),
  { kind: 'refused', name: 'refused', table: refused.fields },
];

// Built from the table, so every value is a message by construction; the tests prove the codec agrees.
const isMessage = (_value: unknown): _value is AnyMessage => true;

const messageOf = ({ kind, name, table }: Kind): Arbitrary<AnyMessage> =>
  fc
    .record({ sequence: fc.integer({ min: 0, max: 255 }), fields: valuesOf(table) })
    .map(({ sequence, fields }) => ({ kind, name, sequence, fields }))
    .filter(isMessage);

/** Any message of the protocol, any values in range. */
export const anyMessage = (): Arbitrary<AnyMessage> => fc.oneof(...kinds.map(messageOf));

/** One message of every kind and name. */
export const everyMessage = (): Arbitrary<AnyMessage[]> => fc.tuple(...kinds.map(messageOf));

export const messageKindCount = kinds.length;
