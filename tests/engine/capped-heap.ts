import { readFileSync, writeFileSync } from 'node:fs';

/** A fixed heap, as a microcontroller has: nothing grows beyond it. */
export type HeapBudget = { readonly slots: number; readonly chunkBytes: number; readonly stackSlots: number };

type Atom = { readonly tag: string; readonly start: number; readonly size: number };

const HEADER_BYTES = 8; // size u32 big-endian, four-letter tag

function* atomsIn(bytes: Buffer, from: number, to: number): Generator<Atom> {
  for (let at = from; at + HEADER_BYTES <= to;) {
    const size = bytes.readUInt32BE(at);
    if (size < HEADER_BYTES) return;
    yield {
      tag: bytes.toString('latin1', at + 4, at + HEADER_BYTES),
      start: at + HEADER_BYTES,
      size: size - HEADER_BYTES,
    };
    at += size;
  }
}

function atomsOf(bytes: Buffer): ReadonlyMap<string, Atom> {
  const outer = [...atomsIn(bytes, 0, bytes.length)];
  const inner = outer.length === 1 && outer[0] ? [...atomsIn(bytes, HEADER_BYTES, bytes.length)] : outer;
  return new Map(inner.map((atom) => [atom.tag, atom]));
}

function atom(atoms: ReadonlyMap<string, Atom>, tag: string): Atom {
  const found = atoms.get(tag);
  if (!found) throw new Error(`the snapshot has no ${tag} atom: is this another version of XS?`);
  return found;
}

/** Bytes of one slot in the engine that wrote the snapshot (32 on a 64-bit machine, 16 on a microcontroller). */
const SLOT_BYTES = 32;

/** Twelve 32-bit numbers of the CREA atom, little-endian, in this order; zero increments forbid growth. */
const CREATION = {
  chunkInitial: 0,
  chunkIncrement: 4,
  heapInitial: 8,
  heapIncrement: 12,
  stack: 16,
} as const;

/**
 * Rewrites the creation parameters that a snapshot carries, so that the engine restored from it has this budget beyond
 * what the snapshot already holds, and can never grow. Layout of XS 13.3 (the pinned worker), found by reading snapshots.
 */
export function capHeap(fromFile: string, toFile: string, budget: HeapBudget): void {
  const bytes = readFileSync(fromFile);
  const atoms = atomsOf(bytes);
  const creation = atom(atoms, 'CREA').start;
  const slotsHeld = Math.ceil(atom(atoms, 'HEAP').size / SLOT_BYTES) + 2;
  const stackHeld = Math.ceil(atom(atoms, 'STAC').size / SLOT_BYTES);
  bytes.writeInt32LE(atom(atoms, 'BLOC').size + budget.chunkBytes, creation + CREATION.chunkInitial);
  bytes.writeInt32LE(0, creation + CREATION.chunkIncrement);
  bytes.writeInt32LE(slotsHeld + budget.slots, creation + CREATION.heapInitial);
  bytes.writeInt32LE(0, creation + CREATION.heapIncrement);
  bytes.writeInt32LE(stackHeld + budget.stackSlots, creation + CREATION.stack);
  writeFileSync(toFile, bytes);
}
