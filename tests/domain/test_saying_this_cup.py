"""What is spoken of beside the cup, and what is of the cup though somebody does something: common use of English.

Each line: what is said | what is there | what is not.
"""

from __future__ import annotations

import pytest

from tastebook.domain.saying import understand
from tests.words import real_vocabulary

WORDS = real_vocabulary()
SAID = """
    peach. My neighbour grows apricots|peach|
    peach. The neighbours are burning leaves|peach|
    peach, and the dog stinks of wet grass|peach|
    peach. Someone is peeling an orange|peach|
    peach. Somebody peeled a mandarin in here|peach|
    peach. I can smell the coffee from downstairs|peach|
    peach. That's the coffee from downstairs you smell|peach|
    peach. I'm smelling coffee but that's from downstairs|peach|
    peach. We had garlic bread at lunch|peach|
    peach. I had a mint earlier|peach|
    peach. I just ate an orange|peach|
    peach. I've been chewing mint gum|peach|
    peach. My hands smell of soap|peach|
    peach. The room smells of paint|peach|
    peach. They painted the room, so ignore the paint|peach|
    peach. Reminds me to buy cinnamon|peach|
    peach. Remind me to buy cinnamon|peach|
    peach. Don't forget the honey on the way home|peach|
    peach. We need milk|peach|
    peach. Would go well with almond biscuits|peach|
    peach. Serve it with cheese|peach|
    peach. I'd have this with a slice of lemon cake|peach|
    peach. People drink it with rose jam|peach|
    peach. In summer I drink it with mint|peach|
    peach. My mother always put cardamom in|peach|
    peach. Grandma's kitchen was all cinnamon and apples|peach|
    peach. When I was a boy we picked blackberries|peach|
    peach. I remember picking plums as a child|peach|
    peach. Years ago I had one that was pure smoke|peach|
    peach. I once tasted a tea that was pure tar|peach|
    peach. The 2019 was smokier|peach|
    peach. The 2019 had more leather|peach|
    peach. Last year it was all leather|peach|
    peach. Last year's was leather|peach|
    peach. In 2021 we had leather|peach|
    peach. The first batch had leather|peach|
    peach. Batch two was leather|peach|
    peach. The other cup is leather|peach|
    peach. The one on the left is leather|peach|
    peach. The cheap one is all leather|peach|
    peach. The next tea is leather|peach|
    peach. Tomorrow we taste the smoky one|peach|
    peach. The smoky one comes next|peach|
    peach. Not like the smoky one|peach|
    peach. Compared with the smoky one it's tame|peach|
    peach. Beside the roasted one it's tame|peach|
    peach. After the roasted one it tastes clean|peach|
    peach. It is grown between camphor trees|peach|
    peach. The garden is full of jasmine|peach|
    peach. They plant it under orange trees|peach|
    peach. It was dried over pine wood|peach|
    peach. It was stored next to spices|peach|
    peach. It came in a cedar box|peach|
    peach. The box is cedar|peach|
    peach. The bag says osmanthus|peach|
    peach. The label mentions osmanthus|peach|
    peach. The farmer calls it almond|peach|
    peach. Its name means orchid|peach|
    peach. They call it honey orchid|peach|
    peach. It's called Big Red Plum|peach|
    peach. The cultivar is known for milk|peach|
    peach. This cultivar often gives milk|peach|
    peach. Usually you'd get milk|peach|
    peach. A good one would have milk|peach|
    peach. I'd like a bit more milk in it|peach|
    peach. With longer steeping you'd get more smoke|peach|
    peach. If it were roasted more it would be nuts|peach|
    peach. It will become honey with age|peach|
    peach. In ten years this will be camphor|peach|
    peach. My colleague says camphor|peach|
    peach. Lena says camphor|peach|
    peach. Lena finds camphor|peach|
    peach. According to Lena it's camphor|peach|
    peach. Lena would say camphor|peach|
    peach. Everyone else gets camphor|peach|
    peach. The others found camphor|peach|
    peach. The panel wrote camphor|peach|
    peach. Some would call it camphor|peach|
    peach. Some people call that camphor|peach|
    peach. A customer once called it camphor|peach|
    peach. Books will tell you camphor|peach|
    peach. I used to think it was camphor|peach|
    peach. I thought it was camphor at first|peach|
    peach. At first I took it for camphor|peach|
    peach. I nearly wrote camphor|peach|
    peach. I was about to say camphor|peach|
    peach. Yesterday I wrote camphor|peach|
    peach. My notes say camphor|peach|
    peach. On Tuesday I had camphor|peach|
    peach. Before lunch I had camphor|peach|
    peach. It's a plum of a tea|peach|
    peach. What a peach of a morning|peach|
    peach. Sweet of you to ask|peach|
    peach. It's a bitter pill but the price is the price|peach|
    peach. He paid peanuts for it|peach|
    peach. That's the icing on the cake|peach|
    peach. Apples and oranges|peach|
    peach. You can't compare apples with oranges|peach|
    peach. Smooth as butter|peach|
    peach. Cool as a cucumber|peach|
    peach. As clear as honey|peach|
    peach. Black as tar|peach|
    peach. Golden like straw|peach|
    peach. Good as gold|peach|
    peach. It moves like honey|peach|
    peach. It pours like oil|peach|
    peach. Here is the honey again|peach honey|
    peach. My first thought is honey|peach honey|
    peach. I'm reminded of honey|peach honey|
    peach. I would call it honey|peach honey|
    peach. You could call it honey|peach honey|
    peach. What I have here is honey|peach honey|
    peach. We all agree on honey|peach honey|
    peach. We agreed on honey|peach honey|
    peach. I keep getting honey|peach honey|
    peach. I go for honey|peach honey|
    peach. I'd go with honey|peach honey|
    peach. I settle on honey|peach honey|
    peach. I lean towards honey|peach honey|
    peach. I wrote honey|peach honey|
    peach. I've written honey|peach honey|
    peach. Put down honey|peach honey|
    peach. Write honey|peach honey|
    peach. Add honey to that|peach honey|
    peach. Then comes honey|peach honey|
    peach. Out comes honey|peach honey|
    peach. It gives me honey|peach honey|
    peach. It hits you with honey|peach honey|
    peach. Honey hits me|peach honey|
    peach. You'd swear it was honey|peach honey|
    peach. I swear it's honey|peach honey|
    peach. I lift the lid: honey|peach honey|
    peach. As I drink, honey|peach honey|
    peach. When I slurp it, honey|peach honey|
    peach. I took another sip, honey|peach honey|
    peach. I let it sit and now honey|peach honey|
    peach. I waited a minute and got honey|peach honey|
    peach. My tongue finds honey|peach honey|
    peach. My nose tells me honey|peach honey|
    peach. The second sip is honey|peach honey|
    peach. The third infusion is honey|peach honey|
    peach. This one is honey|peach honey|
    peach. This tea is honey|peach honey|
    peach. The tea is honey now|peach honey|
    peach. This batch is honey|peach honey|
    peach. The cup is full of honey|peach honey|
    peach. In this cup there's honey|peach honey|
    peach. Compared with last year more honey|peach honey|
    peach. More honey than last year|peach honey|
    peach. Stronger honey than in the last|peach honey|
    peach. As last year, honey|peach honey|
    peach. Same honey as last year|peach honey|
    peach. The honey everybody talks about is here|peach honey|
    peach. The label says honey and I agree|peach honey|
    peach. Lena says honey and she's right|peach honey|
    peach. She said honey and yes, honey|peach honey|
    peach. Like honey|peach honey|
    peach. Something like honey|peach honey|
    peach. Smells of honey like my aunt's kitchen|peach honey|
    peach. The honey my aunt keeps|peach honey|
    peach. Honey, which I love|peach honey|
    peach. Honey, and I don't even like honey|peach honey|
    peach. I love honey and there it is, honey|peach honey|
    peach. Honey. My favourite|peach honey|
"""


@pytest.mark.parametrize("line", [line.strip() for line in SAID.strip().splitlines()])
def test_only_what_is_said_of_this_cup_is_heard(line: str) -> None:
    said, there, absent = ([*line.split("|"), ""])[:3]

    found = {one.key: one.intensity for one in understand(said, WORDS).impressions}

    assert {key for key, strength in found.items() if strength} == set(there.split())
    assert {key for key, strength in found.items() if not strength} == set(absent.split())
