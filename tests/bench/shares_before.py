"""What the rules before made of the same grounds and winds, for `balance.py --shares`.

Measured on 27 November 2026 by the same script, with the rules of the commit before air on the
trail, the turn by the minute and doubt over all directions: shares of go / can't call / stay
out of headlines and of stands, and what else is told below them. A record, never expected
values.
"""

# ground: half and mph: headlines, stands
SHARES = {
    "demo": {
        ("morning", 4): ("100%/0%/0%", "25%/31%/44%"),
        ("morning", 6): ("100%/0%/0%", "40%/8%/51%"),
        ("morning", 8): ("100%/0%/0%", "45%/7%/48%"),
        ("morning", 14): ("100%/0%/0%", "64%/0%/36%"),
        ("evening", 4): ("100%/0%/0%", "30%/23%/47%"),
        ("evening", 6): ("100%/0%/0%", "40%/9%/51%"),
        ("evening", 8): ("100%/0%/0%", "45%/7%/48%"),
        ("evening", 14): ("100%/0%/0%", "64%/0%/36%"),
    },
    "hill": {
        ("morning", 4): ("98%/2%/0%", "30%/13%/57%"),
        ("morning", 6): ("100%/0%/0%", "43%/3%/54%"),
        ("morning", 8): ("100%/0%/0%", "62%/0%/38%"),
        ("morning", 14): ("100%/0%/0%", "85%/0%/15%"),
        ("evening", 4): ("88%/12%/0%", "22%/27%/51%"),
        ("evening", 6): ("100%/0%/0%", "37%/13%/50%"),
        ("evening", 8): ("100%/0%/0%", "68%/0%/32%"),
        ("evening", 14): ("100%/0%/0%", "85%/0%/15%"),
    },
    "10 by lot": {
        ("morning", 4): ("54%/15%/32%", "15%/6%/79%"),
        ("morning", 6): ("68%/1%/30%", "22%/1%/77%"),
        ("morning", 8): ("86%/0%/14%", "34%/0%/66%"),
        ("morning", 14): ("96%/0%/4%", "48%/0%/52%"),
        ("evening", 4): ("55%/23%/22%", "18%/11%/71%"),
        ("evening", 6): ("73%/5%/22%", "25%/3%/71%"),
        ("evening", 8): ("89%/0%/11%", "40%/0%/60%"),
        ("evening", 14): ("97%/0%/3%", "55%/0%/45%"),
    },
}
MORE = {
    "demo": (
        "go with every counting approach on it: 12 of 512",
        "turning minutes called: 90% (4 mph 65%, 6 mph 97%, 8 mph 100%, 14 mph 100%)",
    ),
    "hill": (
        "go with every counting approach on it: 132 of 503",
        "turning minutes called: 80% (4 mph 44%, 6 mph 76%, 8 mph 100%, 14 mph 100%)",
        "hill evenings, clear, 4 to 6 mph: can't call in 8% of 96; 92% say a time",
    ),
    "10 by lot": (
        "go with every counting approach on it: 1143 of 3959",
        "turning minutes called: 84% (4 mph 53%, 6 mph 85%, 8 mph 100%, 14 mph 100%)",
    ),
}
