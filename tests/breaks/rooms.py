"""Which layer a file belongs to, and which tests should notice that it is broken, the quickest first.

A room is a folder or some files; its tests are the files named here: what a contributor would run who works
in that room. Tests of whole servers and of browsers come last, and only where nothing else can notice.
"""

from __future__ import annotations

from pathlib import Path

LAYERS = ("data", "chemistry", "cell", "lesson", "views", "JavaScript", "share")
PACKAGE = "widgets/fizzplate/"

CHEMISTRY = [
    *("chemistry", "published/test_conductivity", "published/test_faraday"),
    *("published/test_gases", "published/test_potentials", "published/test_handbook_values"),
    "published/test_read_values",
]
CELL = [
    *(
        "cell/test_linear",
        "cell/test_speciation",
        "cell/test_cell_input",
        "cell/test_run",
        "cell/test_currents",
    ),
    *("questions/test_stored_runs", "cell/test_vessels", "cell/test_copper_chloride"),
    *("cell/test_known_runs", "published/test_transport", "cell/test_run_many"),
]
QUESTIONS = ["questions/test_questions", "questions/test_number_questions", "questions/test_question_sets"]
MARKING = ["questions/test_marking_words", "questions/test_number_marking"]
EXCHANGE = [
    *("questions/test_exchange_fields", "questions/test_exchange_tables", "questions/test_exchange"),
    "questions/test_exchange_of_others",
]
BENCH = [
    *("lesson/test_rule", "lesson/test_classroom", "lesson/test_what_is_said_of_a_run"),
    *("lesson/test_melts_and_contrast", "lesson/test_equation_tasks", "lesson/test_links"),
]
VIEWS = [
    *("views/test_payload", "views/test_charts", "views/test_setup", "views/test_bench"),
    *("views/test_sent", "views/test_station", "views/test_demonstrate", "views/test_opening"),
]
PAGE = ["views/test_sent", "views/test_on_paper"]
PAPERS = ["views/test_papers", "views/test_asked_charts"]
SERVER = ["serving/test_command", "serving/test_class", "serving/test_shared_link"]
REFUSING = ["serving/test_refusals", *SERVER]

#: by the beginning of a file's path in the package; the longest that fits holds
ROOMS = {
    "": ["data", "chemistry"],
    "data/": ["data", *CHEMISTRY, "questions/test_stored_runs", "cell/test_vessels", *BENCH],
    "data/kinetics": ["data", *CHEMISTRY, *CELL],
    "data/model": ["data", *CHEMISTRY, *CELL],
    "data/vessels": ["data", "cell/test_vessels", "cell/test_cell_input", *CELL],
    "data/question_runs": ["questions/test_stored_runs", *QUESTIONS],
    "data/misconceptions": ["data", "questions/test_questions", *BENCH],
    "data/indicators": ["data", "chemistry", "views/test_payload"],
    "chemistry/": [*CHEMISTRY, "data", *BENCH, "cell/test_run"],
    "cell/": CELL,
    "lesson/": [*BENCH, "lesson/test_exploring", "views/test_bench", "views/test_demonstrate"],
    "lesson/amounts": ["lesson/test_preparing"],
    "lesson/sheets": ["lesson/test_preparing"],
    "lesson/showing": ["lesson/test_preparing"],
    "lesson/room_air": ["lesson/test_preparing"],
    "lesson/timetable": ["lesson/test_preparing"],
    "lesson/contents": ["lesson/test_hazards"],
    "lesson/hazard": [
        "lesson/test_hazards",
        "lesson/test_what_is_said_of_a_run",
        "lesson/test_preparing",
    ],
    "lesson/refusals": ["lesson/test_preparing", *BENCH],
    "lesson/class_": ["lesson/test_measuring"],
    "lesson/measuring": ["lesson/test_measuring"],
    "lesson/fitting": ["lesson/test_measuring"],
    "lesson/causes": ["lesson/test_measuring"],
    "lesson/working": ["lesson/test_measuring"],
    "lesson/unit_spellings": [*MARKING, *QUESTIONS],
    "lesson/mark": [*MARKING, *QUESTIONS],
    "lesson/steps": [*MARKING, *QUESTIONS],
    "lesson/question": [*QUESTIONS, *MARKING],
    "lesson/dice": [*QUESTIONS, *MARKING],
    "lesson/sentences": [*QUESTIONS, *MARKING],
    "lesson/misconceptions": [*QUESTIONS, *MARKING],
    "lesson/makers/": [*QUESTIONS, "questions/test_stored_runs"],
    "lesson/numbers/": ["questions/test_number_questions", *MARKING, "published/test_worked_examples"],
    "lesson/exchange/": EXCHANGE,
    "lesson/sweeps": ["lesson/test_exploring"],
    "lesson/comparing": ["lesson/test_exploring"],
    "lesson/difference": ["lesson/test_exploring"],
    "lesson/investigations": ["lesson/test_exploring"],
    "views/": [*VIEWS, "views/test_ahead", "views/test_modules", "views/test_theme"],
    "views/modules": ["views/test_modules"],
    "views/theme": ["views/test_theme", "browser/test_loading"],
    "views/paper": PAPERS,
    "views/mark_scheme": PAPERS,
    "views/scheme": PAPERS,
    "views/asked_charts": PAPERS,
    "views/typesetting": PAPERS,
    "views/prepare": [*PAGE, "views/test_prepare", "views/test_opening", "browser/test_prepare"],
    "views/reckoning": ["views/test_working", "browser/test_measure"],
    "views/printing/": [*PAGE, "views/test_prepare", "views/test_opening", "browser/test_prepare"],
    "views/measure": [*PAGE, "views/test_measure", "views/test_opening", "browser/test_measure"],
    "views/logged": ["views/test_working", "views/test_opening", "browser/test_measure"],
    "views/station": ["views/test_station", "views/test_demonstrate", "browser/test_old_results"],
    "views/grid/": [*PAGE, "views/test_opening", "browser/test_measure"],
    "views/revise": [*PAGE, "views/test_opening", "browser/test_revise"],
    "views/quiz/": [*PAGE, "views/test_opening", "browser/test_revise", "browser/test_papers"],
    "views/explore": ["views/test_explore", "views/test_opening", "browser/test_explore"],
    "views/inquiry/": ["views/test_sent", "views/test_opening", "browser/test_explore"],
    "views/workshop/": ["views/test_sent", "browser/test_workshop", "browser/test_explore"],
    "views/address/": ["views/test_sent", "browser/test_links_qr", "browser/test_lifeline"],
    "views/address/focus": ["browser/test_focus", "browser/test_telling"],
    "views/address/press": ["browser/test_telling", "browser/test_explore"],
    "views/address/wrong": ["browser/test_demonstrate", "browser/test_prepare"],
    "views/bench/": ["browser/test_demonstrate", "browser/test_lesson", "browser/test_telling"],
    "views/bench/carried": ["browser/test_lifeline"],
    "views/bench/remote": ["browser/test_lesson", "browser/test_hosts"],
    "views/bench/room": ["browser/test_demonstrate", "browser/test_printed"],
    "views/bench/table": ["browser/test_lesson", "browser/test_printed"],
    "views/scene/": ["browser/test_scene", "browser/test_picture"],
    "views/scene/probe": ["browser/test_lesson"],
    "views/taking/": ["browser/test_take_away"],
    "share/": SERVER,
    "share/channels": REFUSING,
    "share/closing": REFUSING,
    "share/files": REFUSING,
    "share/folder": ["serving/test_stopping", *SERVER],
    "share/frames": ["serving/test_frames", *SERVER],
    "share/home": ["serving/test_home", *SERVER],
    "share/limits": REFUSING,
    "share/pages": REFUSING,
    "share/places": ["serving/test_home", *SERVER],
    "share/refusing": REFUSING,
    "share/room": REFUSING,
    "share/stopping": ["serving/test_stopping", *SERVER],
    "share/watchdog": ["serving/test_stopping", *SERVER],
    "share/forking/": ["serving/test_forking", *SERVER, "serving/test_joins"],
    "share/takeaway/": ["serving/test_take_away", "browser/test_take_away"],
    "share/codes": ["serving/test_shared_link", "browser/test_links_qr"],
}


def layer_of(file):
    """Name the layer of a file of the package."""
    if file.endswith(".js"):
        return "JavaScript"
    return file.removeprefix(PACKAGE).split("/")[0]


def commands_for(file):
    """List what is run, in order: a word for the program, then its arguments."""
    inside = file.removeprefix(PACKAGE)
    room = max((start for start in ROOMS if inside.startswith(start)), key=len)
    tests = [
        f"tests/{name}" if "/test_" not in name else f"tests/{name}.py" for name in ROOMS[room]
    ]
    commands = []
    if inside.endswith(".py"):
        module = ".".join(Path(inside).with_suffix("").parts).removesuffix(".__init__")
        commands.append(("doctest", f"fizzplate.{module}"))
    elif inside.endswith(".js"):
        commands.append(("node",))
    slow = [name for name in tests if name.startswith(("tests/browser", "tests/serving"))]
    quick = [name for name in tests if name not in slow]
    return [*commands, *(("pytest", *some) for some in (quick, slow) if some)]
