"""The flag that rewrites the expected messages; read every one of them before you commit it."""

import pytest


def pytest_addoption(parser):
    parser.addoption("--refresh-bad-jobs", action="store_true", help="rewrite tests/bad_jobs/*.txt")


@pytest.fixture
def refresh(request):
    return request.config.getoption("--refresh-bad-jobs", default=False)
