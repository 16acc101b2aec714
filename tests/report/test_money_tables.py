"""The page's money: parts, fuels, payback against price and cost, and the words where there is no number."""

import re
from dataclasses import replace
from types import ModuleType
from typing import Any

import numpy as np

from simengine.economics import FuelUse, HeatSaved, HourlyHeat, Money, Part, bill_of_materials, money_ledger
from simengine.report.money_tables import money_tables
from simengine.report.page import page
from simengine.report.shown import Shown
from simengine.report.tables import console
from simengine.report.verdict import verdict
from simengine.results import Result

OIL = FuelUse("heating_oil", 0.8, price=3.63, price_date="2013-08-22", share=0.6, name="boiler")
WOOD = FuelUse("firewood", 0.65, price=250.0, price_date="2013-08-22", share=0.4, name="<stove>")
POWER = FuelUse("electricity", 1.0, price=0.12)
BILL = bill_of_materials([Part("pane", 2.0, 40.0), Part("<door>", 1.0, 0.0), Part("fan", 1.0, 80.0, life=8)])
WORDS = {"inf", "-inf", "nan", "NaN", "infinity", "Infinity", "None"}
MONEY = Money(BILL.first_cost, parts=BILL.parts)


def summary(made_up: ModuleType, *uses: FuelUse, money: Money = MONEY, heat: float = 500.0) -> Any:
    ledger = money_ledger(HeatSaved(heat, 10.0), uses, POWER, money)
    record = made_up.record(money={"standard": ledger, "low_energy": ledger})
    return Result.of(record).summary


def test_parts_fuels_and_paybacks_are_tables_of_the_page(made_up: ModuleType) -> None:
    told = summary(made_up, OIL, WOOD)
    tables = {table.title.partition(":")[0]: table for table in money_tables(told["houses"])}
    assert list(tables) == [
        "What the build is made of",
        "Saved by each heater",
        "Payback against fuel price and first cost",
    ]
    parts = tables["What the build is made of"].rows
    assert parts[0] == ["pane", "2", "40 USD", "80 USD", "as the collector"]
    assert parts[1][3] == "nothing" and parts[2][4] == "8 years" and parts[-1][3] == "160 USD"
    text = page(told, "si", None)
    assert "&lt;door&gt;" in text and "<door>" not in text and "&lt;stove&gt;" in text
    assert "At hand and counted at nothing" in text and "60 % of the heat" in text
    assert "Internal rate of return" in text and "Break-even fuel price" in text


def test_no_word_of_infinity_anywhere(made_up: ModuleType) -> None:
    for use in (replace(OIL, share=1.0, price=0.0), replace(OIL, share=1.0)):
        for heat in (-20.0, 0.0, 2.0, 500.0):
            for money in (MONEY, Money(0.0), Money(), Money(1.0e6, upkeep=5.0)):
                told = summary(made_up, use, money=money, heat=heat)
                for text in (console(told, Shown("us")), page(told, "us", None)):
                    plain = re.sub(r"<style>.*?</style>|<script>.*?</script>", "", text, flags=re.DOTALL)
                    assert not WORDS & set(re.findall(r"[\w-]+", plain))


def test_the_screen_says_why_there_is_no_payback(made_up: ModuleType) -> None:
    free = summary(made_up, replace(OIL, share=1.0, price=0.0))
    text = " ".join(console(free, Shown("si")).split())
    assert "the fuel that is saved costs nothing" in text
    late = summary(made_up, replace(OIL, share=1.0), money=Money(5000.0))
    text = " ".join(console(late, Shown("si")).split())
    assert "longer than the 20 years that are counted" in text


def test_the_verdict_on_a_fuel_for_nothing(made_up: ModuleType) -> None:
    told = summary(made_up, replace(OIL, share=1.0, price=0.0))
    assert "of a fuel that costs nothing" in verdict(told, Shown("si"))


def test_a_tariff_is_told_once_for_all_houses(made_up: ModuleType) -> None:
    tariff = FuelUse("electricity", 1.0, price_by_hour=(0.1,) * 12 + (0.3,) * 12, price_date="2026-05-01")
    day, none = np.arange(24), np.zeros(24)
    hours = [HourlyHeat((day == hour) * 1.0, none, none, np.full(24, 280.0), day) for hour in (9, 15)]
    ledgers = [money_ledger(HeatSaved(1.0, 0.0, year), [tariff], POWER, MONEY) for year in hours]
    record = made_up.record(money=dict(zip(("standard", "low_energy"), ledgers, strict=True)))
    text = " ".join(console(Result.of(record).summary, Shown("si")).split())
    assert text.count("electricity by a tariff of hours and months in USD/kWh") == 1
