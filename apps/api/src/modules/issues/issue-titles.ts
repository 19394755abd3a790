/** What an issue that a part of the product opens is about: a code, and what its sentence names. */
export interface IssueTitle {
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

const LONGEST_TITLE = 160;

function windowText(seconds: number): string {
  if (seconds % 86_400 === 0) return `${seconds / 86_400} d`;
  return seconds % 3600 === 0 ? `${seconds / 3600} h` : `${Math.round(seconds / 60)} min`;
}

const SENTENCES: { [C in IssueTitle['code']]: (parameters: IssueTitle['parameters']) => string } = {
  'alarms-in-window': ({ most, alarmKind, windowS, circuitName }) =>
    `${most} ${alarmKind === null ? 'alarms' : `alarms "${alarmKind}"`} within ${windowText(windowS)}: ${circuitName}`,
};

/** The title as it is kept. */
export const titleText = ({ code, parameters }: IssueTitle): string =>
  SENTENCES[code](parameters).slice(0, LONGEST_TITLE);
