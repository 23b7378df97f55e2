#include "music/standard.h"

static const struct hbk_standard standards[] = {
    {423.7, "London Philharmonic, 1813",
     "Encyclopaedia Britannica 1911, Pitch, Musical"},
    {433.2, "London, Smart's Philharmonic fork",
     "Encyclopaedia Britannica 1911, Pitch, Musical"},
    {435.0, "French diapason normal, law of 16 February 1859",
     "Encyclopaedia Britannica 1911, Pitch, Musical"},
    {439.0, "New Philharmonic, 1896: the diapason normal in a warm hall",
     "Encyclopaedia Britannica 1911, Pitch, Musical"},
    {440.0, "the modern standard", "ISO 16:1975"},
    {452.5, "old Philharmonic; British army and brass bands",
     "Encyclopaedia Britannica 1911, Pitch, Musical"},
    {454.0, "London fork of 1874",
     "Encyclopaedia Britannica 1911, Pitch, Musical"},
    {457.2, "high pitch of New York, 1879",
     "E. E. Swenson, The History of Musical Pitch in Tuning the Pianoforte"},
};

size_t hbk_standards(const struct hbk_standard **list)
{
    *list = standards;
    return sizeof(standards) / sizeof(standards[0]);
}
