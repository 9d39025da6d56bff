#pragma once
// One bibliography: the keys that stand in [brackets] beside numbers and formulas, and what they mean.
// One line each, `key` first; how it was come by last: FOUND (read in the published text), secondary (read in
// a text that quotes it) or from memory.
//
// [nist-sp811] A. Thompson, B. N. Taylor, Guide for the Use of the International System of Units, NIST Special Publication 811, 2008, appendix B.8; from memory
// [uk-units-1995] The Units of Measurement Regulations 1995 (United Kingdom), gallon = 4.54609 L; from memory
// [dekker1971] T. J. Dekker, A floating-point technique for extending the available precision, Numerische Mathematik 18 (1971) 224-242; from memory
// [tanaka2001] M. Tanaka, G. Girard, R. Davis, A. Peuto, N. Bignell, Recommended table for the density of water between 0 C and 40 C, Metrologia 38 (2001) 301-309; formula from memory, anchors secondary
// [kell1975] G. S. Kell, Density, thermal expansivity and compressibility of liquid water from 0 to 150 C, J. Chem. Eng. Data 20 (1975) 97-105; secondary
// [iapws95] IAPWS R6-95, Thermodynamic properties of ordinary water substance for general and scientific use; values computed, not read
// [iapws-r12-08] IAPWS R12-08, Viscosity of ordinary water substance; check points secondary, values computed
// [iapws-sr6-08] IAPWS SR6-08, Supplementary release on properties of liquid water at 0.1 MPa; coefficients from memory
// [wagner-pruss1993] W. Wagner, A. Pruss, International equations for the saturation properties of ordinary water substance, J. Phys. Chem. Ref. Data 22 (1993) 783-787; values computed, not read
// [buck1996] A. L. Buck, Buck Research CR-1A user's manual, appendix 1, 1996 (after J. Appl. Meteorol. 20 (1981) 1527-1532); from memory
// [us-standard-atmosphere-1976] U.S. Standard Atmosphere 1976, NOAA-S/T 76-1562; constants secondary
