import { useState } from 'hono/jsx/dom';
import type { QuickReading, ReadingInput } from '../../server/conversation-port.ts';
import { api } from '../api.ts';
import { keep, kept } from '../kept.ts';
import type { Value } from '../types.ts';
import { troubleWords } from '../words.ts';
import { areLastReadings, type LastReading, withNewest } from './last-readings.ts';
import { inputOf, type LineRead, type Match } from './match.ts';

/** A reading and what it was judged to be. */
export interface Judged {
  value: Value;
  is: QuickReading;
}
export interface Judging {
  judged?: Judged;
  /** What is wrong with what was entered, in words. */
  trouble: string;
  /** Readings a line may have meant; one of them is to be picked. */
  which: Match[];
  last: LastReading[];
  judge: (input: ReadingInput) => Promise<void>;
  /** @param readLine tells what a line says */
  judgeLine: (text: string, readLine: (text: string) => LineRead) => void;
  pick: (match: Match) => void;
  refuse: (words: string) => void;
  /** Another check is picked: the verdict of the one before goes. */
  leave: () => void;
  clearLast: () => void;
}

const MISSING = {
  value: 'There is no reading in that line: a number, such as 10.2, or OL.',
  place: 'That line does not say what was read. Name it, or pick the check below.',
};

/** Judging one reading after the other: the newest verdict, what went wrong, and the last ones on this device. */
export function useJudging(): Judging {
  const [trouble, setTrouble] = useState('');
  const [which, setWhich] = useState<Extract<LineRead, { is: 'which' }> | undefined>(undefined);
  const [judged, setJudged] = useState<Judged | undefined>(undefined);
  const [last, setLast] = useState<LastReading[]>(kept('readings', areLastReadings) ?? []);

  const keepLast = (readings: LastReading[]) => {
    keep('readings', readings);
    setLast(readings);
  };
  /** What is wrong now, and nothing of the reading before: its verdict must not be taken for this one's. */
  const refuse = (words: string, candidates?: typeof which) => {
    setJudged(undefined);
    setWhich(candidates);
    setTrouble(words);
  };
  const judge = async (input: ReadingInput) => {
    const got = await api.reading(input);
    if (!got.ok) return refuse(troubleWords(got.failure));
    setTrouble('');
    setWhich(undefined);
    keepLast(withNewest(got.value, last));
    setJudged({ value: input.value, is: got.value });
  };
  const judgeLine: Judging['judgeLine'] = (text, readLine) => {
    const line = readLine(text);
    if (line.is === 'reading') void judge(line.input);
    else if (line.is === 'lost') refuse(MISSING[line.missing]);
    else refuse('', line);
  };
  return {
    judged,
    trouble,
    which: which?.of ?? [],
    last,
    judge,
    judgeLine,
    pick: (match) => which && void judge(inputOf(match, which.rest)),
    refuse,
    leave: () => setJudged(undefined),
    clearLast: () => keepLast([]),
  };
}
