// What a widget's drawing code knows as its model, here without a program behind it: the state lies in the page,
// and what would be sent to the program is answered from the file.

/** @typedef {(value?: any, more?: any) => void} Follower */

/** @param {Record<string, any>} state */
export function createModel(state) {
  /** @type {Map<string, Set<Follower>>} */
  const followers = new Map();
  /** @type {(message: any) => void} */
  let answer = () => {};

  /** @param {string} event @param {any[]} told */
  function emit(event, ...told) {
    for (const follower of [...(followers.get(event) ?? [])]) follower(...told);
  }
  return {
    /** @param {string} name */
    get: (name) => state[name],
    /** @param {string} name @param {any} value */
    set(name, value) {
      state[name] = value;
      emit(`change:${name}`);
    },
    /** @param {string} event @param {Follower} follower */
    on(event, follower) {
      const others = followers.get(event) ?? new Set();
      followers.set(event, others.add(follower));
    },
    /** @param {string} event @param {Follower} follower */
    off: (event, follower) => followers.get(event)?.delete(follower),
    save_changes() {},
    /** @param {any} message */
    send: (message) => answer(message),
    /** Change several parts before anyone hears of it; the last is heard. @param {Record<string, any>} parts @param {string} heard */
    tell(parts, heard) {
      Object.assign(state, parts);
      emit(`change:${heard}`);
    },
    /** Say what becomes of messages. @param {(message: any) => any} respond gives what is sent back, if anything */
    respond(respond) {
      answer = (message) => {
        const said = respond(message);
        if (said) emit("msg:custom", said, []);
      };
    },
  };
}

/** @typedef {ReturnType<typeof createModel>} Model */
