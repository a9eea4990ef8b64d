"""The drawing by itself, from real runs, in a page that holds nothing else: pixels and counts."""

from __future__ import annotations

import base64
import json
import re
from dataclasses import asdict

import pytest
from tests.browser.visit import RECORD_DRAWING

from fizzplate.cell import Cell, Lamp
from fizzplate.views.bench.payload import payload
from fizzplate.views.bench.side_cards import lesson_of
from fizzplate.views.figures.charts import charts
from fizzplate.views.web.module_joining import join_modules
from fizzplate.views.web.theme import stylesheet

PAGE = """<!doctype html><html lang="en"><title>scene</title><style>%s
canvas { width: 1000px; height: 560px; display: block; }</style><body></body></html>"""

# the module with its parts, and a model as a widget's would be, without a kernel
LOAD = """async ([text, runs]) => {
  const scopes = ['scene$scene$js', 'scene$record$js', 'scene$motion$clock$js', 'bench$bench$js'];
  const parts = `\\nexport const scopes = [${scopes}];`;
  const address = URL.createObjectURL(new Blob([text + parts], { type: 'text/javascript' }));
  Object.assign(window, ...(await import(address)).scopes);
  window.runs = runs.map(({ header, array_bytes, lesson, charts }) => {
    const bytes = Uint8Array.from(atob(array_bytes), (each) => each.charCodeAt(0));
    return { header, array_bytes: new DataView(bytes.buffer), lesson, charts, show_count: 1 };
  });
  window.modelOf = (run) => ({ get: (name) => run[name], set() {}, save_changes() {}, on() {}, off() {} });
}"""

PLAY = """async ([which, seconds, options]) => {
  const canvas = document.createElement('canvas');
  document.body.replaceChildren(canvas);
  const record = decodeRecord(runs[which].header, runs[which].array_bytes);
  const durationS = record.timeS.at(-1);
  const clock = createClock({ durationS, timeLapse: durationS / seconds });
  const scene = mountScene(canvas, record, clock, options);
  window.scene = scene;
  window.clock = clock;
  const before = scene.summary();
  clock.play();
  await new Promise((done) => clock.subscribe(() => clock.playing || done()));
  return { before, after: scene.summary() };
}"""

# a run played for some seconds and paused: what stands there then, and the still of the same time
PAUSED_AND_STILL = """async ([which, seconds]) => {
  const canvas = document.createElement('canvas');
  document.body.replaceChildren(canvas);
  const record = decodeRecord(runs[which].header, runs[which].array_bytes);
  const made = () => createClock({ durationS: record.timeS.at(-1), timeLapse: 20 });
  const look = () => ({ drawn: lastDrawn(canvas), pixels: canvas.toDataURL() });
  const clock = made();
  const moving = mountScene(canvas, record, clock);
  clock.play();
  await new Promise((done) => clock.subscribe((timeS) => {
    if (timeS < 20 * seconds || !clock.playing) return;
    const { products, electrons } = lastDrawn(canvas); // of the frame before
    if (products.length || electrons.length) done(clock.pause());
  }));
  const paused = look();
  const left = clock.timeS;
  moving.destroy();
  const other = made();
  const scene = mountScene(canvas, record, other, { reducedMotion: true });
  other.seek(left);
  const still = look();
  other.seek(0);
  const start = look();
  other.seek(left);
  const again = look();
  scene.destroy();
  return { paused, still, start, again };
}"""

# the scene at the end of a run, drawn once: the same picture on a slow machine as on a fast one
STILL = """([which]) => {
  const canvas = document.createElement('canvas');
  document.body.replaceChildren(canvas);
  const record = decodeRecord(runs[which].header, runs[which].array_bytes);
  const clock = createClock({ durationS: record.timeS.at(-1), timeLapse: 20 });
  window.scene = mountScene(canvas, record, clock, { reducedMotion: true });
  clock.seek(record.timeS.at(-1));
}"""

# in which order the broken line round an electrode and the ions, which are images, are drawn
BROKEN_LINE = """([which]) => {
  const pens = CanvasRenderingContext2D.prototype;
  const { stroke, drawImage } = pens;
  const canvas = document.createElement('canvas');
  document.body.replaceChildren(canvas);
  const record = decodeRecord(runs[which].header, runs[which].array_bytes);
  const clock = createClock({ durationS: record.timeS.at(-1), timeLapse: 20 });
  const scene = mountScene(canvas, record, clock, { reducedMotion: true });
  clock.seek(record.timeS.at(-1));
  const drawn = [0, 1].map((side) => {
    const order = [];
    pens.stroke = function (...rest) {
      const [dash] = this.getLineDash();
      if (this.canvas === canvas && dash > 5) order.push('broken line');
      return stroke.apply(this, rest);
    };
    pens.drawImage = function (...rest) {
      if (this.canvas === canvas) order.push('ion');
      return drawImage.apply(this, rest);
    };
    scene.setFocus([], side);
    Object.assign(pens, { stroke, drawImage });
    return order;
  });
  scene.destroy();
  return drawn;
}"""

# a scene that is made before its canvas is on the page, in a dim room, and one that is made on the page
EARLY_AND_LATE = """async () => {
  document.documentElement.dataset.fpRoom = 'dim';
  const record = decodeRecord(runs[0].header, runs[0].array_bytes);
  const pictures = [];
  for (const isEarly of [true, false]) {
    const canvas = document.createElement('canvas');
    if (!isEarly) document.body.replaceChildren(canvas);
    const clock = createClock({ durationS: record.timeS.at(-1), timeLapse: 20 });
    const scene = mountScene(canvas, record, clock, { reducedMotion: true });
    if (isEarly) document.body.replaceChildren(canvas);
    for (let k = 0; k < 3; k += 1) await new Promise(requestAnimationFrame); // its size has been noticed
    pictures.push(canvas.toDataURL());
    scene.destroy();
  }
  delete document.documentElement.dataset.fpRoom;
  return pictures;
}"""

# share of the pixels of a band beside an electrode's face that are near a colour
NEAR = """([left, right, colour]) => {
  const canvas = document.querySelector('canvas');
  const [x, width] = [left * canvas.width, (right - left) * canvas.width];
  const [y, height] = [0.5 * canvas.height, 0.2 * canvas.height];
  const { data } = canvas.getContext('2d').getImageData(x, y, width, height);
  let near = 0;
  for (let k = 0; k < data.length; k += 4) {
    const away = colour.reduce((sum, part, band) => sum + Math.abs(data[k + band] - part), 0);
    if (away < 40) near += 1;
  }
  return near / (data.length / 4);
}"""
SCALE_LINE = """() => {
  document.body.replaceChildren();
  const el = document.body.appendChild(document.createElement('div'));
  const end = renderBench({ model: modelOf(runs[1]), el });
  const text = el.querySelector('.fp-ruler .fp-scale').textContent;
  const wide = el.querySelector('canvas').clientWidth >= 560;
  end();
  return { text, wide };
}"""
COPPER = [0xB8, 0x61, 0x2A]
SALTS = ("Na2SO4", "CuSO4", "NaCl", "MgSO4")


def as_sent(run):
    """Give a run as the page receives it."""
    sent = payload(run)
    return {
        "header": json.loads(json.dumps(dict(sent.header))),
        "array_bytes": base64.b64encode(sent.array_bytes).decode(),
        "lesson": lesson_of(run) | {"key": run.cell.solution_formulae[0], "again": False},
        "charts": [asdict(chart) for chart in charts(run)],
    }


@pytest.fixture(scope="module")
def runs():
    """Make the runs that are drawn."""
    lamp = Lamp(6.0, 0.06)
    return {salt: Cell(salt, lamp=lamp).run(minutes=5, samples=121) for salt in SALTS}


@pytest.fixture(scope="module")
def sent(runs):
    """Give the runs as they are sent."""
    return [as_sent(run) for run in runs.values()]


@pytest.fixture
def page(windows, sent):
    """Open a page that holds the module and the runs, and nothing else."""
    opened = windows.lend(viewport={"width": 1100, "height": 700})
    opened.set_content(PAGE % stylesheet())
    opened.evaluate(LOAD, [join_modules("bench/bench.js", render="renderBench"), sent])
    yield opened
    windows.take_back(opened)


def test_gas_is_drawn_two_to_one_and_as_much_as_the_run_releases(page, runs):
    run = runs["Na2SO4"]
    hydrogen, oxygen = run.cathode.amount_mol("H2")[-1], run.anode.amount_mol("O2")[-1]
    burnt = run.anode.amount_mol("CO2")[-1]
    assert hydrogen / (oxygen + burnt) == pytest.approx(2, rel=0.01)
    seen = page.evaluate(PLAY, [0, 6, {}])["after"]
    for drawn, record, gases in (
        (seen["bubblesDrawn"][0], run.cathode, ("H2",)),
        (seen["bubblesDrawn"][1], run.anode, ("O2", "CO2")),
    ):
        released = sum(float(record.gas_cm3(gas, collected=True)[-1]) for gas in gases)
        assert drawn * seen["bubbleCm3"] == pytest.approx(released, rel=0.1)


def test_a_picture_made_before_it_is_on_the_page_has_the_rooms_colours(page):
    early, late = page.evaluate(EARLY_AND_LATE)
    assert early == late


def test_spectators_are_as_many_at_the_end_as_at_the_start(page):
    played = page.evaluate(PLAY, [0, 4, {}])
    for ion in ("Na+", "SO4^2-"):
        assert played["after"]["counts"][ion] == pytest.approx(
            played["before"]["counts"][ion], abs=1
        )
    assert played["after"]["counts"]["H+"] + played["after"]["counts"]["OH-"] > 0


def test_copper_grows_at_the_cathode_and_none_at_the_anode(page):
    page.evaluate(STILL, [1])
    layout = page.evaluate("() => scene.summary().electrodes")
    width = 1000
    beside = 6 / width
    cathode, anode = (
        page.evaluate(NEAR, [edge / width - beside, edge / width, COPPER])
        for edge in (layout[0]["x"], layout[1]["x"])
    )
    assert cathode > 0.3  # ions and bubbles hide some of it
    assert anode < 0.02


def test_electrons_go_out_of_minus_to_the_cathode_and_from_the_anode_to_plus(page):
    page.evaluate(PLAY, [1, 1, {}])
    page.evaluate("() => clock.seek(60)")
    early = page.evaluate("() => scene.summary()")
    page.evaluate("() => clock.seek(120)")
    late = page.evaluate("() => scene.summary()")
    assert early["electronDirection"] == late["electronDirection"] == 1
    moved = late["electronPath"] - early["electronPath"]
    whole = page.evaluate("() => { clock.seek(1e9); return scene.summary().electronPath; }")
    assert moved / whole == pytest.approx(0.2, rel=0.1)  # as the charge


def test_the_broken_line_round_an_electrode_lies_behind_every_ion(page):
    drawn = page.evaluate(BROKEN_LINE, [2])  # in NaCl solution, where ions stand at both electrodes
    assert len(drawn) == 2
    for order in drawn:
        assert order.count("broken line") == 1
        line = order.index("broken line")
        first_ion = order.index("ion")
        assert line < first_ion, "a line in front crosses the ions' charges"
        assert order.count("ion") >= 10


def test_a_still_shows_what_the_moving_picture_has_at_that_time(page):
    page.evaluate(RECORD_DRAWING)
    for which, seconds in ((1, 4), (0, 2.5)):
        seen = page.evaluate(PAUSED_AND_STILL, [which, seconds])
        paused, still = seen["paused"]["drawn"], seen["still"]["drawn"]
        assert len(paused["bubbles"]) > 3
        assert paused["products"] or paused["electrons"]
        for part in ("bubbles", "products", "electrons", "layers"):
            assert still[part] == paused[part], part
        assert seen["paused"]["pixels"] == seen["still"]["pixels"]
        assert seen["start"]["drawn"]["bubbles"] == []
        assert seen["again"]["pixels"] == seen["still"]["pixels"]


def test_until_it_is_explained_nothing_is_drawn_at_the_electrodes_but_what_the_eye_sees(page):
    page.evaluate(RECORD_DRAWING)
    look = """(surface) => {
      const canvas = document.createElement('canvas');
      document.body.replaceChildren(canvas);
      const record = decodeRecord(runs[1].header, runs[1].array_bytes);
      const clock = createClock({ durationS: record.timeS.at(-1), timeLapse: 20 });
      const scene = mountScene(canvas, record, clock, { reducedMotion: true, surface: 'seen' });
      scene.setSurface(surface);
      const all = { bubbles: 0, products: 0, electrons: 0, layers: 0 };
      for (let timeS = 100; timeS < 300; timeS += 10) {
        clock.seek(timeS);
        const drawn = lastDrawn(canvas);
        for (const part of Object.keys(all)) all[part] += drawn[part].length;
      }
      const said = scene.summary().eventStandsFor;
      scene.destroy();
      return { ...all, said };
    }"""
    seen, explained = (page.evaluate(look, surface) for surface in ("seen", "explained"))
    for each in (seen, explained):
        assert each["bubbles"] > 0
        assert each["layers"] > 0
    assert (seen["products"], seen["electrons"], seen["said"]) == (0, 0, "")
    assert explained["products"] > 0
    assert explained["electrons"] > 0
    assert explained["said"]


def test_where_nothing_is_to_move_a_run_plays_in_stills(page):
    drawn = page.evaluate(
        """async () => {
          const canvas = document.createElement('canvas');
          document.body.replaceChildren(canvas);
          const record = decodeRecord(runs[1].header, runs[1].array_bytes);
          const clock = createClock({ durationS: record.timeS.at(-1), timeLapse: 100 });
          const scene = mountScene(canvas, record, clock, { reducedMotion: true });
          const stills = new Set();
          let frames = 0;
          clock.play();
          await new Promise((done) => clock.subscribe(() => {
            frames += 1;
            if (frames % 5 === 0 || !clock.playing) stills.add(canvas.toDataURL());
            if (!clock.playing) done();
          }));
          scene.destroy();
          return { frames, stills: stills.size };
        }"""
    )
    assert drawn["frames"] > 10
    assert 3 <= drawn["stills"] <= 5  # one a second for three seconds, and the end


def test_the_clock_keeps_time_where_frames_are_slow(page):
    shown, passed = page.evaluate(
        """async () => {
          document.body.replaceChildren();
          const el = document.body.appendChild(document.createElement('div'));
          const start = performance.now();
          const end = renderBench({ model: modelOf(runs[1]), el });
          let busy = true;
          const block = () => {
            const until = performance.now() + 300;
            while (performance.now() < until);
            if (busy) requestAnimationFrame(block);
          };
          block();
          await new Promise((done) => {
            const look = () => (performance.now() - start > 2500 ? done() : requestAnimationFrame(look));
            look();
          });
          busy = false;
          const text = el.querySelector('.fp-clock').textContent;
          const [minutes, seconds] = /(?:(\\d+) min )?(\\d+) s/.exec(text).slice(1);
          const shown = 60 * Number(minutes ?? 0) + Number(seconds);
          const passed = (performance.now() - start) / 1000;
          end();
          return [shown, passed];
        }"""
    )
    assert shown / 20 == pytest.approx(passed, abs=0.7)  # two frames


def test_a_white_haze_lies_at_the_cathode_of_magnesium_sulfate(page):
    page.evaluate(STILL, [3])
    bare = """([left]) => {
      const canvas = document.querySelector('canvas');
      const { data } = canvas.getContext('2d').getImageData(left, 300, 30, 190);
      let like = 0;
      for (let k = 0; k < data.length; k += 4) {
        like += Math.abs(data[k] - 0xe3) + Math.abs(data[k + 1] - 0xee) + Math.abs(data[k + 2] - 0xf2) < 9;
      }
      return like / (data.length / 4);
    }"""
    cathode, anode = page.evaluate("() => scene.summary().electrodes")
    at_cathode = page.evaluate(bare, [cathode["x"] + cathode["width"] + 8])
    beside_the_anode = (anode["x"] - 38, anode["x"] + anode["width"] + 8)
    at_anode = max(page.evaluate(bare, [left]) for left in beside_the_anode)  # an ion may cover one
    assert at_cathode < 0.1  # the liquid's own colour is covered
    assert at_anode > 0.3


def test_four_hundred_ions_follow_the_model_by_place(page, runs):
    played = page.evaluate(PLAY, [2, 3, {"particles": "many"}])
    assert 300 <= sum(played["before"]["counts"].values()) <= 403
    ratio = played["before"]["counts"]["Na+"] / played["before"]["counts"]["Cl-"]
    sodium, chloride = (runs["NaCl"].concentration(ion)[0].mean() for ion in ("Na+", "Cl-"))
    assert ratio == pytest.approx(sodium / chloride, rel=0.02)


def test_the_scale_line_says_how_much_is_enlarged_and_what_a_phone_has_no_room_for(page):
    said = []
    for width in (1600, 400):
        page.set_viewport_size({"width": width, "height": 700})
        said.append(page.evaluate(SCALE_LINE))
    for each in said:
        assert re.search(r"layer drawn ×[125][0,]*( |$)", each["text"])
        assert re.search(r"one bubble [\d.]+ cm³", each["text"])
        for beside in ("the pH, not real numbers", "drawn wider than it is"):
            assert beside in each["text"]
        assert ("out of −" in each["text"]) is not each["wide"]


def test_two_benches_on_one_page_play_side_by_side(page):
    pictures = page.evaluate(
        """async () => {
          document.body.replaceChildren();
          const ends = [0, 1].map((which) => {
            const el = document.body.appendChild(document.createElement('div'));
            return renderBench({ model: modelOf(runs[which]), el });
          });
          const now = () => [...document.querySelectorAll('canvas')].map((each) => each.toDataURL());
          const before = now();
          let frames = 12;
          await new Promise((done) => {
            const next = () => (--frames ? requestAnimationFrame(next) : done());
            next();
          });
          const after = now();
          ends[0]();
          const left = document.querySelectorAll('canvas').length;
          ends[1]();
          return { moved: before.map((each, k) => each !== after[k]), left };
        }"""
    )
    assert pictures == {"moved": [True, True], "left": 1}


def test_fifty_benches_come_and_go_and_leave_nothing(page):
    left = page.evaluate(
        """async () => {
          document.body.replaceChildren();
          const live = { listeners: 0, frames: 0, observers: 0 };
          const add = EventTarget.prototype.addEventListener;
          const remove = EventTarget.prototype.removeEventListener;
          // on what outlives a bench: the window, the document, media queries
          const lasting = (target) => !(target instanceof Element) || target === document.documentElement;
          const kept = new Set();
          EventTarget.prototype.addEventListener = function (type, act, options) {
            if (lasting(this) && !(this instanceof AbortSignal)) {
              const key = { target: this, type, act };
              kept.add(key);
              options?.signal?.addEventListener('abort', () => kept.delete(key));
            }
            return add.call(this, type, act, options);
          };
          EventTarget.prototype.removeEventListener = function (type, act, options) {
            for (const key of kept) {
              if (key.target === this && key.type === type && key.act === act) kept.delete(key);
            }
            return remove.call(this, type, act, options);
          };
          const Observer = ResizeObserver;
          let observers = 0;
          window.ResizeObserver = class extends Observer {
            constructor(act) { super(act); observers += 1; }
            disconnect() { super.disconnect(); observers -= 1; }
          };
          const ask = requestAnimationFrame;
          const asked = new Set();
          window.requestAnimationFrame = (act) => {
            const id = ask((now) => { asked.delete(id); act(now); });
            asked.add(id);
            return id;
          };
          const cancel = cancelAnimationFrame;
          window.cancelAnimationFrame = (id) => { asked.delete(id); cancel(id); };
          const nodes = document.querySelectorAll('*').length;
          for (let k = 0; k < 50; k += 1) {
            const el = document.body.appendChild(document.createElement('div'));
            const end = renderBench({ model: modelOf(runs[k % runs.length]), el });
            await new Promise((done) => ask(done));
            end();
            el.remove();
          }
          return { listeners: kept.size, observers, frames: asked.size,
                   nodes: document.querySelectorAll('*').length - nodes };
        }"""
    )
    assert left == {"listeners": 0, "observers": 0, "frames": 0, "nodes": 0}


def test_a_cell_at_rest_is_drawn_half_as_often_as_one_that_runs(page):
    drawn = page.evaluate("""() => {
      const [ask, clear] = [requestAnimationFrame, CanvasRenderingContext2D.prototype.clearRect];
      let frames = [], count = 0, now = 1000;
      window.requestAnimationFrame = (act) => frames.push(act);
      CanvasRenderingContext2D.prototype.clearRect = function (...box) {
        count += 1;
        return clear.apply(this, box);
      };
      const canvas = document.createElement('canvas');
      document.body.replaceChildren(canvas);
      const record = decodeRecord(runs[0].header, runs[0].array_bytes);
      const counted = (shown, begin) => {
        const clock = createClock({ durationS: record.timeS.at(-1), timeLapse: 1 });
        const scene = mountScene(canvas, shown, clock);
        begin(clock);
        count = 0;
        for (let k = 0; k < 60; k += 1, now += 1000 / 60) frames.splice(0).forEach((act) => act(now));
        scene.destroy();
        frames = [];
        return count;
      };
      const without = { ...record, chargeC: record.chargeC.map(() => 0) };
      const found = [counted(without, () => {}), counted(record, (clock) => clock.play())];
      window.requestAnimationFrame = ask;
      CanvasRenderingContext2D.prototype.clearRect = clear;
      return found;
    }""")
    resting, running = drawn
    assert 25 <= resting <= 31
    assert running >= 59


def test_a_hidden_page_draws_nothing(page):
    drawn = page.evaluate(
        """async () => {
          document.body.replaceChildren();
          const el = document.body.appendChild(document.createElement('div'));
          const end = renderBench({ model: modelOf(runs[0]), el });
          Object.defineProperty(document, 'hidden', { value: true, configurable: true });
          document.dispatchEvent(new Event('visibilitychange'));
          await new Promise((done) => setTimeout(done, 100));
          let drawn = 0;
          const clear = CanvasRenderingContext2D.prototype.clearRect;
          CanvasRenderingContext2D.prototype.clearRect = function (...box) {
            drawn += 1;
            return clear.apply(this, box);
          };
          await new Promise((done) => setTimeout(done, 300));
          const hidden = drawn;
          Object.defineProperty(document, 'hidden', { value: false, configurable: true });
          document.dispatchEvent(new Event('visibilitychange'));
          await new Promise((done) => setTimeout(done, 300));
          end();
          return { hidden, shown: drawn > hidden };
        }"""
    )
    assert drawn == {"hidden": 0, "shown": True}


def test_a_sharp_screen_gets_as_many_dots(browser, sent):
    context = browser.new_context(viewport={"width": 1100, "height": 700}, device_scale_factor=2)
    page = context.new_page()
    page.set_content(PAGE % stylesheet())
    page.evaluate(LOAD, [join_modules("bench/bench.js", render="renderBench"), sent])
    page.evaluate(PLAY, [0, 0.5, {}])
    dots = page.evaluate("() => [document.querySelector('canvas').width, devicePixelRatio]")
    assert dots == [2000, 2]
    context.close()
