/** What an issue that a part of the product opens is about: a code, and what its sentence names. */
export type IssueTitle =
  | {
      readonly code: 'alarms-in-window';
      readonly parameters: {
        /** the most within one window */
        readonly most: number;
        /** null: alarms of any kind */
        readonly alarmKind: string | null;
        readonly windowS: number;
        readonly circuitName: string;
      };
    }
  | {
      readonly code: 'silent';
      /** machineName null: nothing comes from the source at all */
      readonly parameters: { readonly machineName: string | null; readonly sourceName: string };
    };

const LONGEST_TITLE = 160;

function windowText(seconds: number): string {
  if (seconds % 86_400 === 0) return `${seconds / 86_400} d`;
  return seconds % 3600 === 0 ? `${seconds / 3600} h` : `${Math.round(seconds / 60)} min`;
}

type Sentences = {
  [T in IssueTitle as T['code']]: (parameters: T['parameters']) => string;
};
const SENTENCES: Sentences = {
  'alarms-in-window': ({ most, alarmKind, windowS, circuitName }) =>
    `${most} ${alarmKind === null ? 'alarms' : `alarms "${alarmKind}"`} within ${windowText(windowS)}: ${circuitName}`,
  silent: ({ machineName, sourceName }) =>
    machineName === null ? `No reports from ${sourceName}` : `No reports of ${machineName} from ${sourceName}`,
};

/** The title as it is kept. */
export function titleText(title: IssueTitle): string {
  const sentence =
    title.code === 'silent' ? SENTENCES.silent(title.parameters) : SENTENCES[title.code](title.parameters);
  return sentence.slice(0, LONGEST_TITLE);
}
