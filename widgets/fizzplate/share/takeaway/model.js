// A widget's model without a program behind it: its state lies in the page, and the file answers its messages.

/** @typedef {(value?: any, more?: any) => void} Follower */

/** @param {Record<string, any>} state */
export function createModel(state) {
  /** @type {Map<string, Set<Follower>>} */
  const followers = new Map();
  /** @type {(message: any) => void} */
  let answer = () => {};

  /** @param {string} event @param {any[]} details */
  function emit(event, ...details) {
    for (const follower of [...(followers.get(event) ?? [])]) follower(...details);
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
    /** Change several traits, then announce one of them. @param {Record<string, any>} traits @param {string} announced */
    change(traits, announced) {
      Object.assign(state, traits);
      emit(`change:${announced}`);
    },
    /** Answer messages. @param {(message: any) => any} respond gives what is sent back, if anything */
    respond(respond) {
      answer = (message) => {
        const reply = respond(message);
        if (reply) emit("msg:custom", reply, []);
      };
    },
  };
}

/** @typedef {ReturnType<typeof createModel>} Model */
