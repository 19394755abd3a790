import { PlainError } from '../support/plain-error.mjs';

/** A pass phrase guards a file that can be tried at for years. */
const SHORTEST = 12;

/**
 * The pass phrase of a new backup: BACKUP_PASSPHRASE, or asked twice on the terminal.
 * @param {NodeJS.ProcessEnv} env
 */
export async function readNewPassphrase(env) {
  const passphrase = env.BACKUP_PASSPHRASE || (await ask('Pass phrase for the backup: '));
  if (passphrase.length < SHORTEST) {
    throw new PlainError(
      `The pass phrase has ${passphrase.length} characters; at least ${SHORTEST} are needed.`,
      'Four or five words that have nothing to do with each other are good and can be remembered.',
    );
  }
  if (!env.BACKUP_PASSPHRASE && (await ask('The same once more: ')) !== passphrase) {
    throw new PlainError('The two pass phrases differ.', 'Start again. Nothing was written.');
  }
  return passphrase;
}

/**
 * The pass phrase of a backup that is there.
 * @param {NodeJS.ProcessEnv} env
 */
export async function readPassphrase(env) {
  return env.BACKUP_PASSPHRASE || ask('Pass phrase of the backup: ');
}

/**
 * Asks on the terminal, without showing what is typed.
 * @param {string} question
 * @returns {Promise<string>}
 */
function ask(question) {
  const { stdin, stderr } = process;
  if (!stdin.isTTY) {
    throw new PlainError(
      'A pass phrase is needed, and there is no terminal to ask on.',
      'Set BACKUP_PASSPHRASE, best from a file that only you can read.',
    );
  }
  stderr.write(question);
  stdin.setRawMode(true);
  stdin.setEncoding('utf8');
  return new Promise((resolve, reject) => {
    let typed = '';
    /** @param {() => void} end */
    const finish = (end) => {
      stdin.off('data', onData).setRawMode(false).pause();
      stderr.write('\n');
      end();
    };
    /** @param {string} text */
    const onData = (text) => {
      for (const letter of text) {
        if (letter === '\r' || letter === '\n') return finish(() => resolve(typed));
        if (letter === '\u0003') return finish(() => reject(new PlainError('Stopped.', 'Nothing was written.')));
        typed = letter === '\u007f' ? typed.slice(0, -1) : typed + letter;
      }
    };
    stdin.on('data', onData).resume();
  });
}
