import { findPasswordFault } from './password-rules.js';

const faultOf = (password: string) => findPasswordFault(password, 'maria.keller@test.example');

describe('a new password', () => {
  it.each(['password', 'Password', 'qwertyuiop', 'iloveyou', 'football1', 'sunshine', 'Password123', 'PASSWORD!!'])(
    '%s is refused as common',
    (password) => expect(faultOf(password)).toBe('common'),
  );

  it.each(['aaaaaaaa', 'abababab', 'xyzxyzxyzx', '12121212', 'abcdefgh', 'ZYXWVUTSR', '98765432', '        '])(
    '%s is refused as trivial',
    (password) => expect(faultOf(password)).toBe('trivial'),
  );

  it('that holds the name of the e-mail is refused', () => {
    expect(faultOf('Maria.Keller7')).toBe('own-name');
  });

  it.each(['correct horse battery', 'a long test password 1', 'Tr0ub4dor&3x', 'пароль-которого-нет', 'aab1aab2'])(
    '%s is taken',
    (password) => expect(faultOf(password)).toBeNull(),
  );
});
