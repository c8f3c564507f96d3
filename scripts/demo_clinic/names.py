"""Invented names in several languages and scripts."""

from __future__ import annotations

import random

from demo_clinic.tale import Clinic

FIRST_CLINIC = Clinic(("Harbour", "Mill Lane"), ("Imogen Vale", "Asha Lund"), ("Ben Aster", "Orla Finch"))

CAST = (
    ("Marlow", "Edith"), ("Okafor", "Sam"), ("Lindqvist", "Åsa"), ("Wójcik", "Łukasz"),
    ("Nuñez Rey", "Íñigo"), ("Çelik", "İpek"), ("Đặng", "Thị Hạnh"), ("Ólafsdóttir", "Þórunn"),
    ("Papadaki", "Ελένη"), ("Kovalenko", "Олеся"), ("王", "秀英"), ("البستاني", "ليلى"),
    ("Brânză", "Ștefan"), ("Žukauskaitė", "Rūta"), ("MacAulay", "Seònaid"), ("O’Driscoll", "Fiachra"),
    ("van der Meer", "Joost"), ("Šimůnek", "Vojtěch"), ("Béranger", "Zoë"), ("Grübel", "Jörg"),
    ("Adeyemi", "Títílayọ̀"), ("Szabó", "Örs"), ("शर्मा", "मीरा"), ("Tamm", "Külli"),
    ("Pritchard", "Siân"), ("Faleolo", "Sione"), ("Sørensen", "Bjørk"), ("Peña", "Belén"),
    ("Conceição", "João"), ("Kamaũ", "Wanjirũ"), ("佐藤", "はるか"), ("김", "민서"),
    ("Bielak", "Świętosława"), ("Haddad", "Nour"), ("Quill", "Tobias"), ("Rowntree-Hale", "Winifred"),
    ("D’Angeli", "Niccolò"), ("Ó Cléirigh", "Gráinne"), ("Lõhmus", "Aïda"), ("Petrov", "Пётр"),
    ("Ashdown", "Percival"), ("Mbeki-Rose", "Lindiwe"), ("Vâlcu", "Ana-Țuca"), ("Holm", "Ægir"),
    ("Ramdin", "Shanti"), ("Ferreiro", "Xoán"), ("Kılıç", "Barış"), ("Thornbury", "Maud"),
    ("כהן-אור", "נועה"), ("Yilma", "Selam"), ("Achterberg", "Loïs"), ("Jankovič", "Čedomir"),
    ("Underhill", "Florence"), ("Nakagawa", "Ren"), ("Müller-Lüdke", "Änne"), ("Castellanos", "Inés"),
    ("Ekström", "Håkan"), ("Boateng", "Kwabena"), ("Gwyther", "Alys"), ("Lê", "Quang Đức"),
    ("Hargreave", "Ottilie"), ("Pađen", "Máret"), ("Zachariou", "Άννα"), ("Kerrigan", "Oisín"),
    ("Vesik", "Õie"), ("Amsel", "Jürgen"),
)  # fmt: skip
"""Family and given names of the cast, in the order of their stories."""

_GIVEN = (
    "Ada", "Béla", "Chiara", "Dénes", "Émile", "Frøya", "Gökçe", "Hélène", "Ilse", "Jürgen", "Kirsi",
    "Lærke", "Maëlle", "Ngozi", "Óscar", "Pía", "Quentin", "Réka", "Sótiris", "Tomáš", "Ülo", "Violet",
    "Wiebke", "Ximena", "Yaël", "Zofia", "Анна", "Ирина", "Νίκη", "Σοφία", "مريم", "יעל", "小雨",
    "さくら", "지우", "राधा", "Thảo", "Kofi", "Amara", "Leilani",
)  # fmt: skip
_FAMILY = (
    "Abbotsley", "Bałucki", "Çınar", "Dvořáček", "Eðvarðsson", "Fontaine", "Gärtner", "Høgh", "Ivanova",
    "Järvelä", "Kądziela", "Lacroix", "Mäkelä", "Nyström", "Ó Riada", "Pádraig", "Quirke", "Rădulescu",
    "Søgaard", "Tănase", "Ünal", "Vašek", "Whitlock", "Xavier", "Yazıcı", "Zielińska", "Ashby",
    "Bramwell", "Coverdale", "Dunmore", "Eastgate", "Fairbrother", "Gathercole", "Hollis", "Inchbald",
    "Jessop", "Kellaway", "Larkspur", "Mossman", "Netherby",
)  # fmt: skip


def name(n: int, rng: random.Random) -> tuple[str, str]:
    """Family and given name of the n-th person: the cast first, then any of some thousands."""
    if n < len(CAST):
        return CAST[n]
    family = rng.choice(_FAMILY)
    if rng.random() < 0.3:
        family = f"{family}-{rng.choice(_FAMILY)}"
    return family, rng.choice(_GIVEN)


def clinic(n: int) -> Clinic:
    """The n-th clinic; the first is the one of the demo, the others are alike."""
    if n == 0:
        return FIRST_CLINIC
    staff = [f"{_GIVEN[(5 * n + k) % 26]} {_FAMILY[(7 * n + 11 * k) % 40]} {n}" for k in range(4)]
    return Clinic((f"Harbour {n}", f"Mill Lane {n}"), (staff[0], staff[1]), (staff[2], staff[3]))
