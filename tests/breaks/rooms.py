"""Which layer a file belongs to, and which tests should notice that it is broken, the quickest first.

A room is a folder or some files; its tests are the files named here: what a contributor would run who works
in that room. Tests of whole servers and of browsers come last, and only where nothing else can notice.
"""

from __future__ import annotations

from pathlib import Path

LAYERS = (
    *("data", "words", "chemistry", "cell", "lesson", "questions", "views", "JavaScript", "share"),
)
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
    *("questions/test_stored_runs", "cell/test_vessels", "cell/test_known_species"),
    *("cell/test_known_runs", "published/test_transport", "cell/test_run_many"),
]
QUESTIONS = [
    *("questions/test_makers", "questions/test_sets", "questions/test_editions"),
    *("questions/test_board_wording", "questions/test_answers_in_words"),
    "questions/test_number_questions",
    "questions/test_question_sets",
]
MARKING = [
    "questions/test_marking_words",
    "questions/test_near_misses",
    "questions/test_errors_carried_forward",
    "questions/test_units_and_figures",
    "questions/test_typed_numbers",
]
EXCHANGE = [
    *(
        "questions/test_exchange_fields",
        "questions/test_exchange_tables",
        "questions/test_exchange",
    ),
    "questions/test_items_of_others",
    "questions/test_items_changed_elsewhere",
    "questions/test_hostile_packages",
]
BENCH = [
    *("lesson/test_rule", "lesson/test_classroom", "lesson/test_what_is_said_of_a_run"),
    *("lesson/test_melts_and_contrast", "lesson/test_equation_tasks", "lesson/test_links"),
]
VIEWS = [
    *("views/test_payload", "views/test_charts", "views/test_setup", "views/test_bench"),
    *(
        "views/test_sent",
        "views/test_run_controller",
        "views/test_demonstrate",
        "views/test_opening",
    ),
]
PAGE = ["views/test_sent", "views/test_on_paper"]
PAPERS = ["views/test_papers", "views/test_question_charts"]
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
    "data/misconceptions": ["data", "questions/test_misconceptions", *BENCH],
    "data/indicators": ["data", "chemistry", "views/test_payload"],
    "words/": [*BENCH, *QUESTIONS, *MARKING],
    "words/refusals": ["cell/test_cell_input", "cell/test_refusals", *BENCH],
    "words/field_labels": ["lesson/test_preparing", *BENCH],
    "chemistry/": [*CHEMISTRY, "data", *BENCH, "cell/test_run"],
    "chemistry/in_words": [*QUESTIONS, *MARKING],
    "cell/": CELL,
    "cell/voltage_sweep": ["cell/test_voltage_sweep", "published/test_decomposition_voltage"],
    "cell/air_oxygen": ["cell/test_air_oxygen", "cell/test_voltage_sweep"],
    "cell/residual_current": ["cell/test_voltage_sweep", "published/test_decomposition_voltage"],
    "lesson/": [*BENCH, "lesson/test_exploring", "views/test_bench", "views/test_demonstrate"],
    "lesson/classroom/contents": ["lesson/test_hazards"],
    "lesson/classroom/hazards": [
        "lesson/test_hazards",
        "lesson/test_what_is_said_of_a_run",
        "lesson/test_preparing",
    ],
    "lesson/classroom/sweeps": ["lesson/test_exploring"],
    "lesson/classroom/cell_comparison": ["lesson/test_exploring"],
    "lesson/classroom/investigations": ["lesson/test_exploring"],
    "lesson/rule/rule_vs_model": ["lesson/test_exploring"],
    "lesson/measure/": [
        *("lesson/test_class_tables", "lesson/test_fitting", "lesson/test_logger"),
        *("lesson/test_worked_amounts", "lesson/test_causes_of_error"),
    ],
    "lesson/measure/calculation_steps": [*MARKING, *QUESTIONS],
    "lesson/prepare/": ["lesson/test_preparing"],
    "questions/": [*QUESTIONS, *MARKING],
    "questions/marking/": [*MARKING, *QUESTIONS],
    "questions/makers/": [*QUESTIONS, "questions/test_stored_runs"],
    "questions/calculations/": [
        "questions/test_number_questions",
        *MARKING,
        "published/test_worked_examples",
    ],
    "questions/exchange/": EXCHANGE,
    "questions/question_types/": ["questions/test_question_types", *MARKING, *QUESTIONS],
    "views/": [*VIEWS, "views/test_prefetch", "views/test_modules", "views/test_theme"],
    "views/web/module_joining": ["views/test_modules"],
    "views/web/theme": ["views/test_theme", "browser/test_loading"],
    "views/web/address/": ["views/test_sent", "browser/test_links_qr", "browser/test_lifeline"],
    "views/web/address/focus": ["browser/test_focus", "browser/test_telling"],
    "views/web/address/press": ["browser/test_telling", "browser/test_explore"],
    "views/kit/": ["browser/test_demonstrate", "browser/test_lesson", "browser/test_telling"],
    "views/kit/tab_memory": ["browser/test_lifeline"],
    "views/kit/refusal": ["browser/test_demonstrate", "browser/test_prepare"],
    "views/kit/remote": ["browser/test_lesson", "browser/test_hosts"],
    "views/kit/screen": ["browser/test_demonstrate", "browser/test_printed"],
    "views/figures/question_charts": PAPERS,
    "views/paper/": PAPERS,
    "views/paper/printing/": [
        *PAGE,
        "views/test_prepare",
        "views/test_opening",
        "browser/test_prepare",
    ],
    "views/controls/calculator": ["views/test_calculator", "browser/test_measure"],
    "views/controls/logger_panel": [
        "views/test_calculator",
        "views/test_opening",
        "browser/test_measure",
    ],
    "views/controls/run_controller": [
        "views/test_run_controller",
        "views/test_demonstrate",
        "browser/test_old_results",
    ],
    "views/controls/results_export/": ["browser/test_take_away"],
    "views/pages/prepare": [
        *PAGE,
        "views/test_prepare",
        "views/test_opening",
        "browser/test_prepare",
    ],
    "views/pages/measure": [
        *PAGE,
        "views/test_measure",
        "views/test_opening",
        "browser/test_measure",
    ],
    "views/pages/revise": [
        *PAGE,
        "views/test_opening",
        "browser/test_revise",
        "browser/test_revise_ways",
    ],
    "views/pages/explore": ["views/test_explore", "views/test_opening", "browser/test_explore"],
    "views/grid/": [*PAGE, "views/test_opening", "browser/test_measure"],
    "views/quiz/": [
        *PAGE,
        "views/test_opening",
        "browser/test_revise",
        "browser/test_revise_marking",
        "browser/test_revise_own_marks",
        "browser/test_revise_ways",
        "browser/test_papers",
    ],
    "views/inquiry/": ["views/test_sent", "views/test_opening", "browser/test_explore"],
    "views/workshop/": ["views/test_sent", "browser/test_workshop", "browser/test_explore"],
    "views/bench/": ["browser/test_demonstrate", "browser/test_lesson", "browser/test_telling"],
    "views/bench/lesson/results_": ["browser/test_lesson", "browser/test_printed"],
    "views/scene/": ["browser/test_scene", "browser/test_picture"],
    "views/scene/probe": ["browser/test_lesson"],
    "share/": SERVER,
    "share/handlers/channels": REFUSING,
    "share/handlers/closing": REFUSING,
    "share/handlers/files": REFUSING,
    "share/folder": ["serving/test_stopping", *SERVER],
    "share/handlers/frames": ["serving/test_frames", *SERVER],
    "share/handlers/home": ["serving/test_home", *SERVER],
    "share/limits": REFUSING,
    "share/handlers/pages": REFUSING,
    "share/places": ["serving/test_home", *SERVER],
    "share/handlers/refusal_handler": REFUSING,
    "share/kernel_pool": REFUSING,
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
