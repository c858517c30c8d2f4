#include "sci-community.h"

#include <stdlib.h>

#define BITS 64

bool
sci_presence_init (SciPresence *self, size_t units, size_t species)
{
  *self = (SciPresence) { units, species, (units + BITS - 1) / BITS, NULL };
  self->bits = calloc (self->words * species + 1, sizeof *self->bits);
  return self->bits != NULL;
}

void
sci_presence_clear (SciPresence *self)
{
  free (self->bits);
  self->bits = NULL;
}

void
sci_presence_set (SciPresence *self, size_t species, size_t unit)
{
  self->bits[species * self->words + unit / BITS] |= UINT64_C (1) << unit % BITS;
}

/* The bits of a word that are set, added up in pairs, fours, eights. */
static size_t
count_word (uint64_t word)
{
  word -= word >> 1 & UINT64_C (0x5555555555555555);
  word = (word & UINT64_C (0x3333333333333333)) + (word >> 2 & UINT64_C (0x3333333333333333));
  word = (word + (word >> 4)) & UINT64_C (0x0f0f0f0f0f0f0f0f);
  return (size_t) (word * UINT64_C (0x0101010101010101) >> 56);
}

/* Units with either of two species. */
static size_t
count_either (const uint64_t *a, const uint64_t *b, size_t words)
{
  size_t n = 0;

  for (size_t w = 0; w < words; w++)
    n += count_word (a[w] | b[w]);
  return n;
}

static size_t
find_unit (const uint64_t *bits)
{
  size_t word = 0, bit = 0;

  while (bits[word] == 0)
    word++;
  while (!(bits[word] >> bit & 1))
    bit++;
  return word * BITS + bit;
}

/* The species that were found at all, and in how many units each. */
static size_t
list_found (const SciPresence *presence, size_t *found)
{
  size_t n = 0;

  for (size_t i = 0; i < presence->species; i++)
    {
      const uint64_t *own = presence->bits + i * presence->words;

      if (count_either (own, own, presence->words) > 0)
        found[n++] = i;
    }
  return n;
}

static void
count_species (SciTally *self, const SciPresence *presence, const size_t *found, size_t n)
{
  size_t words = presence->words;

  for (size_t i = 0; i < n; i++)
    {
      const uint64_t *own = presence->bits + found[i] * words;
      size_t in = count_either (own, own, words);

      self->absent[self->units - in]++;
      self->pairs[self->units - in]++;
      if (in == 1)
        self->single[find_unit (own)]++;
      for (size_t j = 0; j < i; j++)
        self->pairs[self->units - count_either (own, presence->bits + found[j] * words, words)] += 2;
    }
}

bool
sci_tally_init (SciTally *self, const SciPresence *presence)
{
  size_t *found = calloc (presence->species + 1, sizeof *found);

  *self = (SciTally) { .units = presence->units };
  self->absent = calloc (presence->units + 1, sizeof *self->absent);
  self->pairs = calloc (presence->units + 1, sizeof *self->pairs);
  self->single = calloc (presence->units + 1, sizeof *self->single);
  if (found == NULL || self->absent == NULL || self->pairs == NULL || self->single == NULL)
    {
      free (found);
      sci_tally_clear (self);
      return false;
    }
  count_species (self, presence, found, list_found (presence, found));
  free (found);
  return true;
}

void
sci_tally_clear (SciTally *self)
{
  free (self->absent);
  free (self->pairs);
  free (self->single);
  *self = (SciTally) { .units = self->units };
}
