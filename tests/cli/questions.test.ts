import { PassThrough } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { Questions } from '../../host/cli/questions';

const typing = (isTerminal: boolean) => {
  const input = new PassThrough();
  const said: string[] = [];
  const questions = new Questions({ input, isTerminal, say: (text) => void said.push(text) });
  const type = async (line: string): Promise<void> => {
    input.write(`${line}\n`);
    await new Promise((resolve) => setImmediate(resolve));
  };
  return { questions, said, type };
};

describe('what is typed before its question', () => {
  it('answers nothing at a terminal, and that is said; the next line does', async () => {
    const { questions, said, type } = typing(true);
    const first = questions.ask('ohmmeter shows? ');
    await type('22');
    expect(await first).toBe('22');
    await type('20');
    const second = questions.ask('needle reads? ');
    expect(said.join('')).toContain('not taken');
    await type('35');
    expect(await second).toBe('35');
  });

  it('is kept while a list is pasted, for which nothing is asked', async () => {
    const { questions, said, type } = typing(true);
    const first = questions.ask('');
    await type('90 85');
    await type('100 97');
    expect([await first, await questions.ask('')]).toEqual(['90 85', '100 97']);
    expect(said.join('')).toBe('');
  });

  it('is kept when a file or a program answers', async () => {
    const { questions, said, type } = typing(false);
    const first = questions.ask('one? ');
    await type('1');
    await type('2');
    expect(await first).toBe('1');
    expect(await questions.ask('two? ')).toBe('2');
    expect(said).toEqual(['one? ', 'two? ']);
  });
});
