// Passkeys: what the browser is asked comes from the server and goes back to it;
// nothing is kept here. Without a script, or where the browser has none, a password
// does the same.
const bytes = (text) => Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (c) => c.charCodeAt(0));
const text = (buffer) => btoa(String.fromCharCode(...new Uint8Array(buffer))).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');

// A sentence for the reader.
class Said extends Error {}

async function send(path, body) {
  const answer = await fetch(path, {
    method: 'POST', headers: { 'Content-Type': 'application/json', 'Glidepath-Fragment': 'yes' }, body: JSON.stringify(body ?? {}),
  });
  const said = await answer.json().catch(() => ({}));
  if (!answer.ok) throw new Said(said.wrong || (answer.status === 401 ? 'You are signed out. Sign in again.' : 'That did not work. Try again.'));
  return said;
}

const withBytes = (all) => all?.map((one) => ({ ...one, id: bytes(one.id) }));

async function make(question) {
  const q = question.publicKey;
  const made = await navigator.credentials.create({ publicKey: {
    ...q, challenge: bytes(q.challenge), user: { ...q.user, id: bytes(q.user.id) }, excludeCredentials: withBytes(q.excludeCredentials),
  } });
  const r = made.response;
  return { id: made.id, rawId: text(made.rawId), type: made.type, response: {
    clientDataJSON: text(r.clientDataJSON), attestationObject: text(r.attestationObject), transports: r.getTransports?.() ?? [],
  } };
}

async function show(question) {
  const q = question.publicKey;
  const shown = await navigator.credentials.get({ publicKey: { ...q, challenge: bytes(q.challenge), allowCredentials: withBytes(q.allowCredentials) } });
  const r = shown.response;
  return { id: shown.id, rawId: text(shown.rawId), type: shown.type, response: {
    clientDataJSON: text(r.clientDataJSON), authenticatorData: text(r.authenticatorData), signature: text(r.signature),
    userHandle: r.userHandle ? text(r.userHandle) : undefined,
  } };
}

const prove = async () => show(await send('/account/proof/ask'));

// What each button does; it gives where to go on, if anywhere.
const flows = {
  'sign-in': async (box) => {
    const answer = await show(await send('/sign-in/passkey/ask'));
    return send('/sign-in/passkey', { answer, next: box.closest('form').elements.next.value });
  },
  join: async (box) => {
    const login = box.closest('form').elements.login;
    if (!login.reportValidity()) return undefined;
    const answer = await make(await send(box.dataset.at + '/ask', { login: login.value }));
    return send(box.dataset.at, { answer });
  },
  add: async (box) => {
    const present = box.querySelector('input[type=password]'), proof = {};
    if (!('fresh' in box.dataset)) {
      if (present?.value) proof.password = present.value;
      else if ('keys' in box.dataset) proof.proof = await prove();
      else {
        present.focus();
        throw new Said('Type your present password first.');
      }
    }
    const answer = await make(await send('/account/passkeys/ask', proof));
    return send('/account/passkeys', { answer, name: box.querySelector('input[type=text]').value });
  },
  password: async (box) => {
    const form = box.closest('form');
    if (!form.elements.password.reportValidity()) return undefined;
    form.elements.proof.value = JSON.stringify(await prove());
    form.submit();
    return undefined;
  },
};

// What the browser's own errors mean (W3C Web Authentication, sections 5.1.3 and 5.1.4).
const words = {
  NotAllowedError: 'Nothing was done: it was cancelled, took too long, or there is no passkey for this site here.',
  AbortError: 'Nothing was done: it was cancelled.',
  InvalidStateError: 'This device has a passkey for this account already.',
  SecurityError: 'The browser allows no passkeys at this address.',
  NotSupportedError: 'This device cannot keep such a passkey. Try another.',
  ConstraintError: 'This device cannot check who you are. Set a screen lock or a PIN on it first.',
};

export function passkeys(box) {
  const without = box.parentElement.querySelector('[data-passkey-without]');
  if (!window.PublicKeyCredential || location.origin !== box.dataset.origin) {
    if (without) without.hidden = false;
    return;
  }
  box.hidden = false;
  const button = box.querySelector('button'), says = box.querySelector('.says');
  const run = async (event) => {
    event.preventDefault();
    if (button.disabled) return;
    button.disabled = true;
    says.textContent = 'Your device asks you now.';
    try {
      const said = await flows[box.dataset.passkey](box);
      says.textContent = '';
      if (said?.go) location.assign(said.go);
    } catch (failed) {
      says.textContent = failed instanceof Said ? failed.message : words[failed.name] ?? 'That did not work. Try again.';
    } finally {
      button.disabled = false;
    }
  };
  if (box.matches('form')) box.addEventListener('submit', run);
  else button.addEventListener('click', run);
}
