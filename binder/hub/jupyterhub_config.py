"""JupyterHub on one machine: each learner has a server of their own, which goes when they have left.

Set up once, on Debian or Ubuntu, as root, from the top of the repository::

    apt-get install nodejs npm
    npm install --global configurable-http-proxy
    python3 -m venv /opt/fizzplate
    /opt/fizzplate/bin/pip install . jupyterhub jupyterhub-idle-culler
    /opt/fizzplate/bin/pip install jupyterhub-systemdspawner jupyterhub-tmpauthenticator
    /opt/fizzplate/bin/pip install jupyterhub-ltiauthenticator
    PATH=/opt/fizzplate/bin:$PATH binder/postBuild

Then, and at each start of the machine (a systemd unit with the same line)::

    PATH=/opt/fizzplate/bin:$PATH jupyterhub -f binder/hub/jupyterhub_config.py

It listens on this machine only: a web server with the school's certificate stands before it and hands
on websockets too. The link for a class is `https://HOST/hub/user-redirect/voila/render/demonstrate.ipynb`
with the page's own query behind it.

Whoever has the link is let in, without a name. FIZZPLATE_SIGN_IN=lti13 has the school's learning
platform sign them in instead, with what the platform says of itself in LTI_ISSUER, LTI_CLIENT_ID,
LTI_AUTHORIZE_URL and LTI_JWKS_ENDPOINT. LTI 1.3 shares no secret. A platform shows the pages in a
window of its own, not in a frame.
"""

from __future__ import annotations

import os
import sys
from importlib.resources import files
from pathlib import Path

from psutil import cpu_count, virtual_memory

c = get_config()  # noqa: F821  # JupyterHub's, in its settings files

MEGABYTE = 1024 * 1024
# measured: a server 130, one page 100; a reload leaves the page before it alive for two minutes
EXPECTED_MB = 230
MAX_MB = 640
KEPT_FOR_THE_MACHINE_MB = 1024

here = Path(sys.prefix, "bin")

c.JupyterHub.bind_url = os.environ.get("FIZZPLATE_BIND", "http://127.0.0.1:8000")
c.JupyterHub.cleanup_servers = True
# nothing about a learner outlives the hub
c.JupyterHub.db_url = "sqlite:///:memory:"

# each learner's server: ours alone, without files, terminals or a place to write that lasts
c.JupyterHub.spawner_class = "systemdspawner.SystemdSpawner"
c.SystemdSpawner.dynamic_users = True
c.SystemdSpawner.isolate_tmp = True
c.SystemdSpawner.isolate_devices = True
c.SystemdSpawner.disable_user_sudo = True
c.SystemdSpawner.unit_extra_properties = {
    "ProtectSystem": "strict",
    "ProtectHome": "yes",
    "TasksMax": "128",
    # the hub and its proxy, and no other computer
    "IPAddressDeny": "any",
    "IPAddressAllow": "localhost",
}
c.Spawner.cmd = [str(here / "python"), "-m", "jupyterhub.singleuser"]
c.Spawner.notebook_dir = str(files("fizzplate.share") / "notebooks")
c.Spawner.default_url = "/voila"
c.Spawner.env_keep = ["LANG"]
c.Spawner.environment = {
    "PATH": f"{here}{os.pathsep}/usr/bin{os.pathsep}/bin",
    "JUPYTERHUB_SINGLEUSER_APP": "jupyter_server.serverapp.ServerApp",
    "OPENBLAS_NUM_THREADS": "1",
    "OMP_NUM_THREADS": "1",
}
c.Spawner.mem_limit = MAX_MB * MEGABYTE
c.Spawner.cpu_limit = 1.0

# a class opens the link in the same minute, and nobody in it is told to come back later
c.JupyterHub.concurrent_spawn_limit = max(40, 4 * (cpu_count() or 1))
c.JupyterHub.active_server_limit = max(
    1, int((virtual_memory().total / MEGABYTE - KEPT_FOR_THE_MACHINE_MB) / EXPECTED_MB)
)
c.Spawner.start_timeout = 180
c.Spawner.http_timeout = 180

# who has left for ten minutes is forgotten: server, name and all
c.JupyterHub.load_roles = [
    {
        "name": "culling",
        "scopes": [
            "list:users",
            "read:users:activity",
            "read:servers",
            "delete:servers",
            "admin:users",
        ],
        "services": ["culling"],
    }
]
c.JupyterHub.services = [
    {
        "name": "culling",
        "command": [
            str(here / "python"),
            "-m",
            "jupyterhub_idle_culler",
            "--timeout=600",
            "--cull-every=60",
            "--cull-users=true",
        ],
    }
]

if os.environ.get("FIZZPLATE_SIGN_IN") == "lti13":
    c.JupyterHub.authenticator_class = "ltiauthenticator.lti13.auth.LTI13Authenticator"
    c.LTI13Authenticator.issuer = os.environ["LTI_ISSUER"]
    c.LTI13Authenticator.client_id = {os.environ["LTI_CLIENT_ID"]}
    c.LTI13Authenticator.authorize_url = os.environ["LTI_AUTHORIZE_URL"]
    c.LTI13Authenticator.jwks_endpoint = os.environ["LTI_JWKS_ENDPOINT"]
    c.LTI13Authenticator.username_key = "sub"  # the platform's number for a learner, not their name
else:
    c.JupyterHub.authenticator_class = "tmpauthenticator.TmpAuthenticator"
c.Authenticator.allow_all = True
