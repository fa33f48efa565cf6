import type { JSX } from 'preact';
import { useSignal } from '../signal';
import { Choice } from './choice';
import type { Looks } from './look';

const LOOKS = [
  { value: 'system', words: 'As the system' },
  { value: 'day', words: 'Day' },
  { value: 'night', words: 'Night' },
] as const;

/** Day or night, for this screen alone. */
export const LookChoice = ({ looks }: { readonly looks: Looks }): JSX.Element => (
  <Choice label="This screen" options={LOOKS} chosen={useSignal(looks.look)} onChoose={looks.setLook} />
);
