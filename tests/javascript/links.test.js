// The addresses of a page: what they keep, what they never show, and which one reaches others.

import assert from "node:assert/strict";
import { test } from "node:test";

import { isOnlyHere, linkOf, ownAddress, splitLink, stateOf } from "../../widgets/fizzplate/views/web/address/links.js";

test("what opens the door is no part of the page's state", () => {
  assert.equal(stateOf("?key=abc"), "");
  assert.equal(stateOf("?token=x&v=1&cells=NaCl,c=0.1;KI&key=abc"), "?v=1&cells=NaCl,c=0.1;KI");
  assert.equal(stateOf("?keys=1&v=1"), "?keys=1&v=1");
});

test("the page's own address keeps the key, and neither the token nor the place on the page", () => {
  const here = "http://192.168.1.20:8866/explore?token=t&v=1&cells=KI&key=a%2Bb#top";
  assert.equal(ownAddress("v=1&cells=NaCl", here), "http://192.168.1.20:8866/explore?key=a%2Bb&v=1&cells=NaCl");
});

test("a class link gives scheme, host, port and key; the page gives path and query", () => {
  const here = "http://127.0.0.1:8866/demonstrate?v=1";
  assert.equal(linkOf("v=1&open=2", here, "https://lab.example:9000/?key=xyz"), "https://lab.example:9000/demonstrate?key=xyz&v=1&open=2");
  assert.equal(linkOf("v=1", here, ""), here);
  assert.equal(linkOf("v=1", here, "javascript:alert(1)"), here);
  assert.equal(linkOf("v=1", "http://10.0.0.2/measure?key=own", "http://10.0.0.2:80/"), "http://10.0.0.2/measure?key=own&v=1");
});

test("which links work on this computer only", () => {
  for (const host of ["localhost", "127.0.0.1", "127.1.2.3", "[::1]", "page.localhost"]) assert.ok(isOnlyHere(`http://${host}:8866/`), host);
  for (const host of ["192.168.1.20", "127.example.org", "localhost.example.org"]) assert.ok(!isOnlyHere(`http://${host}/`), host);
});

test("the first part of a link opens the page by itself", () => {
  assert.deepEqual(splitLink("http://10.0.0.2:1/measure?key=a&v=1&metal=Ag"), ["http://10.0.0.2:1/measure?key=a", "&v=1&metal=Ag"]);
  assert.deepEqual(splitLink("http://10.0.0.2:1/measure?v=1"), ["http://10.0.0.2:1/measure", "?v=1"]);
});
