#!/usr/bin/python3
"""Times SciPy's solve_ivp on one brick of 1,000 cells for 12 h: the model of data/reference/food_brick.

    bench/food/scipy_case.py
"""
import importlib.util
import pathlib
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
spec = importlib.util.spec_from_file_location("make", ROOT / "data/reference/food_brick/make.py")
make = importlib.util.module_from_spec(spec)
spec.loader.exec_module(make)

brick = make.Brick(cells=(10, 10, 10), size=(0.41, 0.245, 0.058))
clock, busy = time.perf_counter(), time.process_time()
run = brick.cook([12], 1e-4, 1e-3)
print(f"SciPy solve_ivp (BDF, rtol 1e-4), 1 member, 12 h, 1,000 cells: {time.perf_counter() - clock:.2f} s, "
      f"processor {time.process_time() - busy:.2f} s, {run.nfev} rates, status {run.status}")
